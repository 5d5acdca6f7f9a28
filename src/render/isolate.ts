/** First strong isolate, right-to-left isolate and their end (Unicode Standard Annex 9, explicit directional isolates). */
const firstStrong = "\u2068";
const rightToLeft = "\u2067";
const end = "\u2069";

/** Signs that steer the direction of writing and are never seen: marks, embeddings, overrides and isolates. */
const steering = /[\u061C\u200E\u200F\u202A-\u202E\u2066-\u2069]/;

/** Letters of scripts that run from right to left, and marks that act like one. */
const rightToLeftLetter = /[\u0590-\u08FF\u200F\uFB1D-\uFDFF\uFE70-\uFEFC\u{10800}-\u{10FFF}\u{1E800}-\u{1EFFF}]/u;

/** True for a text that would turn what stands around it in a line from left to right. */
export function runsRightToLeft(text: string): boolean {
  return rightToLeftLetter.test(text);
}

/** A text that keeps its own order whatever stands around it: '2025-03' after Arabic would else be read as '03-2025'. */
export function isolated(text: string): string {
  return text === "" ? text : `${firstStrong}${text}${end}`;
}

/** A text read from right to left wherever it is drawn; isolates that its line has lost the other end of are mended. */
export function fromRightToLeft(text: string): string {
  let open = 0;
  let mended = "";
  for (const sign of text) {
    if (sign === end && open === 0) continue;
    if (/[\u2066-\u2068]/.test(sign)) open += 1;
    if (sign === end) open -= 1;
    mended += sign;
  }
  return `${rightToLeft}${mended}${end.repeat(open + 1)}`;
}

/** A text without isolates, for what knows nothing of them: cells of a CSV file, lines of a terminal, bookmarks. */
export function withoutIsolates(text: string): string {
  return text.replace(/[\u2066-\u2069]/g, "");
}

/** True for a sign that has no width and no picture. */
export function isSteering(sign: string): boolean {
  return steering.test(sign);
}

/** A part of a parsed message: text, a placeholder, or a choice between parts. */
interface Part {
  readonly type: number;
  readonly value?: unknown;
  readonly options?: Readonly<Record<string, { value: Part[] }>>;
}

/** Under this name a value is given as it is printed; under its own name as choices need it. */
export const asPrinted = (name: string): string => `${name}${firstStrong}`;

/** The parsed message with every placeholder that prints a value as it is taking it under the name of `asPrinted`. */
export function printingIsolated<T>(parsed: readonly T[]): T[] {
  const renamed = (parts: readonly Part[]): Part[] =>
    parts.map((part) => {
      if (part.type === 1) return { ...part, value: asPrinted(String(part.value)) };
      if (part.options === undefined) return part;
      const options = Object.entries(part.options).map(([key, option]) => [
        key,
        { ...option, value: renamed(option.value) },
      ]);
      return { ...part, options: Object.fromEntries(options) };
    });
  return renamed(parsed as unknown as Part[]) as unknown as T[];
}
