/** Letters of the pseudo-language: legible, yet never found in English. */
const accents: Readonly<Record<string, string>> = {
  a: "\u00e5",
  c: "\u00e7",
  e: "\u00e9",
  i: "\u00ee",
  n: "\u00f1",
  o: "\u00f6",
  u: "\u00fb",
  y: "\u00fd",
  A: "\u00c5",
  C: "\u00c7",
  E: "\u00c9",
  I: "\u00ce",
  N: "\u00d1",
  O: "\u00d6",
  U: "\u00db",
  Y: "\u00dd",
};

/** A text with accents on its letters. */
export const accented = (text: string): string => text.replace(/[a-zA-Z]/g, (letter) => accents[letter] ?? letter);

/** A part of a parsed message: text, a placeholder, or a choice between parts. */
interface Part {
  readonly type: number;
  value?: unknown;
  readonly options?: Readonly<Record<string, { value: Part[] }>>;
}

/**
 * The parsed message with accents on its own letters, in brackets: a text that never went through the words file keeps its
 * plain letters and is seen at once. Placeholders are left alone.
 */
export function pseudo<T>(parsed: readonly T[]): T[] {
  const withAccents = (parts: readonly Part[]): Part[] =>
    parts.map((part) => {
      if (part.type === 0 && typeof part.value === "string") {
        return { ...part, value: accented(part.value) };
      }
      if (part.options === undefined) return part;
      const options = Object.entries(part.options).map(([key, option]) => [
        key,
        { ...option, value: withAccents(option.value) },
      ]);
      return { ...part, options: Object.fromEntries(options) };
    });
  const literal = (value: string): Part => ({ type: 0, value });
  return [literal("["), ...withAccents(parsed as unknown as Part[]), literal("]")] as unknown as T[];
}
