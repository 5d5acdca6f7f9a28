import type { CheckId } from "../../results/check-ids.js";

/** Why a finding has no repair: the message `repair.none.<reason>`. */
export type NoRepair =
  | "not-reached"
  | "population"
  | "single-rows"
  | "no-repeats"
  | "shape"
  | "places"
  | "order-only"
  | "design";

/**
 * What puts the finding of each check right: ids of repairs, each as it stands in the results up to the stroke and what follows
 * it; or why nothing in the data could. A check that is not listed here does not compile.
 */
export const repairsOfChecks: Readonly<Record<CheckId, readonly string[] | NoRepair>> = {
  "clusters-reached": "not-reached",
  "households-reached": "not-reached",
  "missing-values": ["absent/imputed"],
  "duplicate-rows": ["records/repeats"],
  "sex-balance": "population",
  "age-groups": "population",
  "younger-older-ratio": "population",
  "age-heaping": ["ages/heaped", "ages/within-month", "ages/birth-dates"],
  "weight-digits": ["digits/weight"],
  "height-digits": ["digits/height"],
  "arm-digits": ["digits/arm"],
  "measuring-position": ["records/positions"],
  "entry-order": "order-only",
  "implausible-values": "single-rows",
  spread: "no-repeats",
  shape: "shape",
  "clusters-differ": "places",
  "teams-differ": ["instrument"],
  "design-known": "design",
  "sampling-weights": "design",
};
