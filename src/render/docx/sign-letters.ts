import type { Reading } from "../../results/schema.js";
import type { OwnMarkup } from "../markup.js";
import { emDash } from "../numbers.js";
import { readingSign } from "../signs.js";
import type { Words } from "../words.js";

/** Letters like the signs of the page: open, half and full circle, a dash. The half circle is filled where reading begins. */
const letters: Readonly<Record<Words["direction"], Readonly<Record<Reading, string>>>> = {
  ltr: { expected: "\u25cb", explain: "\u25d0", doubt: "\u25cf", unknown: emDash },
  rtl: { expected: "\u25cb", explain: "\u25d1", doubt: "\u25cf", unknown: emDash },
};
const readings = ["expected", "explain", "doubt", "unknown"] as const;

/** The word of a reading behind its sign, as text that can be edited. */
export function withSign(sign: OwnMarkup | null, word: string, words: Words): string {
  const reading = readings.find((each) => readingSign(each).text === sign?.text);
  return reading === undefined ? word : `${letters[words.direction][reading]}\u00a0${word}`;
}
