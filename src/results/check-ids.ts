/** The checks, in the order of the report: who was measured, how, what came out, where and when differences lie. */
export const checkIds = [
  "clusters-reached",
  "households-reached",
  "design-known",
  "sampling-weights",
  "missing-values",
  "duplicate-rows",
  "sex-balance",
  "age-groups",
  "younger-older-ratio",
  "age-heaping",
  "weight-digits",
  "height-digits",
  "arm-digits",
  "measuring-position",
  "entry-order",
  "implausible-values",
  "spread",
  "shape",
  "clusters-differ",
  "teams-differ",
] as const;

/** Key in results.json and anchor in the report. */
export type CheckId = (typeof checkIds)[number];
