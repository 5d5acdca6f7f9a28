import { message } from "../../results/message.js";
import type { Message } from "../../results/schema.js";
import type { SurveyDesign } from "../../stats/design/survey-design.js";
import { countKnown } from "./kept-scores.js";

/**
 * Fewer different z-scores than this, to two decimals, are rows that repeat each other, and no spread, shape or
 * difference can be read from them: 25 measured children have nearly as many different scores. Judgement.
 */
const fewestDifferent = 10;

/** How many different values there are to two decimals, counted up to `atMost`: rounding noise makes no new value. */
function countDifferent(values: Float64Array, atMost: number): number {
  const seen = new Set<number>();
  for (let i = 0; i < values.length && seen.size < atMost; i++) {
    // + 0 makes one value of 0 and -0.
    if (!Number.isNaN(values[i])) seen.add(Math.round((values[i] as number) * 100) + 0);
  }
  return seen.size;
}

/** Why z-scores say too little: too few children, no variation, or too few different values. Null where they can be read. */
export function tooLittle(values: Float64Array, fewest: number): Message | null {
  const n = countKnown(values);
  if (n < fewest) return message("checks.unknown.few-children", { n, fewest });
  const different = countDifferent(values, fewestDifferent);
  if (different >= fewestDifferent) return null;
  if (different === 1) return message("checks.unknown.no-variation", { n });
  return message("checks.unknown.few-values", { n, different, fewest: fewestDifferent });
}

/** Of several columns the one with the most values. */
export function fullest(columns: readonly Float64Array[]): Float64Array {
  return columns.reduce(
    (most, column) => (countKnown(column) > countKnown(most) ? column : most),
    columns[0] ?? new Float64Array(0),
  );
}

/** Why z-scores that vary have no interval: one cluster, or one in every stratum. */
export function clustersTooFew(values: Float64Array, { cluster, stratum }: SurveyDesign): Message {
  const clusters = new Set<number>();
  const strata = new Set<number>();
  for (let i = 0; i < values.length; i++) {
    if (Number.isNaN(values[i]) || (cluster[i] as number) < 0) continue;
    clusters.add(cluster[i] as number);
    strata.add(stratum[i] as number);
  }
  if (clusters.size < 2) return message("checks.unknown.one-cluster");
  if (clusters.size <= strata.size) return message("checks.unknown.one-cluster-each", { strata: strata.size });
  return message("checks.unknown.no-interval");
}
