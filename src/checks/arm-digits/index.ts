import type { Check } from "../check.js";
import { digitCheck } from "../shared/digit-check.js";
import type { DigitNumbers } from "../shared/digits.js";

/**
 * The last digit of arm circumferences in millimetres. Finds tapes read to 5 or 10 mm, which moves children over the
 * cut-offs at 115 and 125 mm.
 */
export const armDigits: Check<DigitNumbers> = digitCheck({
  name: "arm",
  unit: "millimetre",
  // Arm circumference read to the nearest millimetre: confirmed, see the source 'measure-to-a-millimetre'.
  resolution: 1,
  // Median times coefficient of variation at 730 days, mean of boys (15.1526 x 0.07746) and girls (14.8783 x 0.08127),
  // in cm, times ten: WHO Child Growth Standards, arm circumference-for-age tables.
  oneZ: 11.9,
});
