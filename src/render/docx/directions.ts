/** A stretch of text that is written in one direction. */
export interface Stretch {
  readonly text: string;
  readonly rightToLeft: boolean;
}

const opening = /[\u2066-\u2068]/;
const closing = "\u2069";
const steering = /[\u2066-\u2069]/;
const rightToLeftLetter = /[\p{Script=Arabic}\p{Script=Hebrew}]/u;
const letter = /\p{L}/u;
const leftToRightMark = "\u200e";

/** Direction of an isolate by its first letter of either direction; from left to right where it has none. */
function firstStrong(signs: readonly string[], from: number): boolean {
  let depth = 0;
  for (const sign of signs.slice(from)) {
    if (sign === closing && depth === 0) return false;
    if (sign === closing) depth -= 1;
    else if (opening.test(sign)) depth += 1;
    else if (depth === 0 && letter.test(sign)) return rightToLeftLetter.test(sign);
  }
  return false;
}

/**
 * A text cut where its direction changes. Word processors set the direction of a run of text and know little of isolates
 * (Unicode Standard Annex 9): each isolate becomes a stretch of its own, one from left to right between marks.
 */
export function stretchesOf(text: string, rightToLeft: boolean): Stretch[] {
  if (!rightToLeft) return [{ text: text.replace(/[\u2066-\u2069]/g, ""), rightToLeft: false }];
  const signs = [...text];
  const directions = [true];
  const cut: { text: string; rightToLeft: boolean }[] = [];
  let fresh = true;
  for (const [at, sign] of signs.entries()) {
    if (steering.test(sign)) {
      if (sign !== closing) directions.push(sign === "\u2068" ? firstStrong(signs, at + 1) : sign === "\u2067");
      else if (directions.length > 1) directions.pop();
      fresh = true;
      continue;
    }
    const last = cut.at(-1);
    const direction = directions.at(-1) ?? true;
    if (last === undefined || (fresh && last.rightToLeft !== direction))
      cut.push({ text: sign, rightToLeft: direction });
    else last.text += sign;
    fresh = false;
  }
  return cut.map((each) =>
    each.rightToLeft ? each : { ...each, text: `${leftToRightMark}${each.text}${leftToRightMark}` },
  );
}
