import type { Check } from "../check.js";
import { digitCheck } from "../shared/digit-check.js";
import type { DigitNumbers } from "../shared/digits.js";

/**
 * The last digit of lengths and heights. Finds boards read to the centimetre or half centimetre: the error itself is
 * small (a whole centimetre adds 0.289 cm), but the habit often comes with others that are not.
 */
export const heightDigits: Check<DigitNumbers> = digitCheck({
  name: "height",
  unit: "centimetre",
  // Standing height read to the nearest 0.1 cm: confirmed, see the source 'measure-to-a-millimetre'.
  resolution: 0.1,
  // Median times coefficient of variation at 730 days, mean of boys (87.8018 x 0.03479) and girls (86.4008 x 0.03733):
  // WHO Child Growth Standards, length-for-age tables.
  oneZ: 3.14,
});
