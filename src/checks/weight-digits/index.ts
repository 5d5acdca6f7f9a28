import type { Check } from "../check.js";
import { digitCheck } from "../shared/digit-check.js";
import type { DigitNumbers } from "../shared/digits.js";

/**
 * The last digit of weights. Finds weights read to a coarser mark than the scale has: rounding to the half or whole
 * kilogram widens the spread of weight-for-height and so raises the share of children below any cut-off.
 */
export const weightDigits: Check<DigitNumbers> = digitCheck({
  name: "weight",
  unit: "kilogram",
  // 100 g or finer: common practice for child scales; read in no source by the authors.
  resolution: 0.1,
  // Median weight times its coefficient of variation at 85.0 cm, mean of boys (11.6707 x 0.08156) and girls
  // (11.3934 x 0.08896): WHO Child Growth Standards, weight-for-height tables.
  oneZ: 0.983,
});
