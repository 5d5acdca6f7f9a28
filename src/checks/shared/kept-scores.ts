import type { Children, ExclusionRule, IndexId } from "../../derive/children.js";
import { usable } from "../../derive/exclusions.js";

/**
 * The z-scores of an index that a rule keeps, that of the published prevalences where none is given; NaN for every other child.
 * Checks and prevalences speak of the same children: two rules side by side would tell of the few between them.
 */
export function keptScores(children: Children, index: IndexId, rule: ExclusionRule = ruleOf(children)): Float64Array {
  const keep = usable(children, index, rule);
  const scores = children.indices[index].z.slice();
  for (let child = 0; child < scores.length; child++) if (keep[child] !== 1) scores[child] = Number.NaN;
  return scores;
}

/** The rule under which the survey's prevalences are published. */
export const ruleOf = ({ exclusionRule }: Children): ExclusionRule => exclusionRule ?? "fixed";

/** 1 where a value is known. */
export const knownIn = (values: Float64Array): Uint8Array =>
  Uint8Array.from(values, (value) => (Number.isNaN(value) ? 0 : 1));

/** How many values are there. */
export function countKnown(values: Float64Array): number {
  let known = 0;
  for (let i = 0; i < values.length; i++) if (!Number.isNaN(values[i])) known++;
  return known;
}
