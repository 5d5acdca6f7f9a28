import type { Children, ExclusionRule, IndexId } from "../derive/children.js";
import { usable } from "../derive/exclusions.js";

/** The z-scores of an index that a rule keeps; NaN for every other child. */
export function keptScores(children: Children, index: IndexId, rule: ExclusionRule): Float64Array {
  const keep = usable(children, index, rule);
  return children.indices[index].z.map((z, child) => (keep[child] === 1 ? z : Number.NaN));
}

/** How many values are there. */
export function countKnown(values: Float64Array): number {
  let known = 0;
  for (const value of values) if (!Number.isNaN(value)) known++;
  return known;
}
