import type { Difference, Pair } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { TableCell } from "../results/schema.js";
import { isClear } from "../results/verdict.js";
import { pairName } from "./pair-name.js";
import type { SurveySummary } from "./summary.js";

/** A difference with its pair and its surveys. */
export interface Compared {
  readonly difference: Difference;
  readonly pair: Pair;
  readonly first: SurveySummary;
  readonly second: SurveySummary;
}

/** Whether the difference is more than chance. */
export const isClearDifference = ({ difference }: Compared): boolean => isClear(difference);

/** |t|, so that differences of unlike precision can be put in order; -1 where it cannot be told. */
export function strength({ difference: { difference, standardError } }: Compared): number {
  return difference === null || standardError === null ? -1 : Math.abs(difference / standardError);
}

/** The differences by what `keyOf` gives, in their order; those of which a survey is not here are left out. */
export function comparedBy(
  summaries: readonly SurveySummary[],
  pairs: readonly Pair[],
  differences: readonly Difference[],
  keyOf: (compared: Compared) => string,
): Map<string, Compared[]> {
  const survey = new Map(summaries.map((one) => [one.key, one]));
  const pairOf = new Map(pairs.map((pair) => [pair.id, pair]));
  const all = new Map<string, Compared[]>();
  for (const difference of differences) {
    const pair = pairOf.get(difference.pair);
    const first = survey.get(pair?.first ?? "");
    const second = survey.get(pair?.second ?? "");
    if (pair === undefined || first === undefined || second === undefined) continue;
    const compared = { difference, pair, first, second };
    const known = all.get(keyOf(compared));
    if (known === undefined) all.set(keyOf(compared), [compared]);
    else known.push(compared);
  }
  return all;
}

/** The cells that begin a row on a difference: the pair, both figures, the difference and its limits. */
export function comparedCells({ difference, pair, first, second }: Compared): TableCell[] {
  return [
    pairName(pair, first, second),
    difference.first,
    difference.second,
    difference.difference,
    difference.interval?.low ?? null,
    difference.interval?.high ?? null,
  ];
}

/** The answer to a pair's question in words. */
export const verdictCell = ({ difference: { verdict }, pair: { question } }: Compared) =>
  message(`compare.verdict.${question}.${verdict}`);
