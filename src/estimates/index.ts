import { acuteMalnutrition } from "./acute-malnutrition.js";
import type { Estimate } from "./estimate.js";
import { means } from "./means.js";
import { obesity, overweight } from "./overweight.js";
import { severeStunting, stunting } from "./stunting.js";
import { severeUnderweight, underweight } from "./underweight.js";
import { severeWasting, wasting } from "./wasting.js";

/** Every estimate, in the order of the report. */
export const estimates: readonly Estimate[] = [
  wasting,
  severeWasting,
  ...acuteMalnutrition,
  stunting,
  severeStunting,
  underweight,
  severeUnderweight,
  overweight,
  obesity,
  ...means,
];
