import type { Children, ExclusionRule, IndexId } from "../derive/children.js";
import { usable } from "../derive/exclusions.js";

/** The z-scores of an index that a rule keeps; NaN for every other child. */
export function keptScores(children: Children, index: IndexId, rule: ExclusionRule): Float64Array {
  const keep = usable(children, index, rule);
  const scores = children.indices[index].z.slice();
  for (let child = 0; child < scores.length; child++) if (keep[child] !== 1) scores[child] = Number.NaN;
  return scores;
}

/** How many values are there. */
export function countKnown(values: Float64Array): number {
  let known = 0;
  for (let i = 0; i < values.length; i++) if (!Number.isNaN(values[i])) known++;
  return known;
}
