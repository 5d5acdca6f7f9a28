import type { Spec } from "./theme.js";

/** A channel that a number of the data is read into, on the scale of the frame. */
export const quantitative = (field: string, more: Spec = {}): Spec => ({
  field,
  type: "quantitative",
  ...more,
});

/** A channel that takes the value of the data as it is: a colour written out. */
export const asGiven = (field: string): Spec => ({ field, type: "nominal", scale: null });
