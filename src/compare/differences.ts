import type { Difference, Pair, Verdict } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { EstimateCell, Message } from "../results/schema.js";
import { withholdBelow } from "../results/withhold-below.js";
import { compareIndependent } from "../stats/design/difference.js";
import { benjaminiHochberg } from "../stats/false-discovery.js";
import { cellUnder } from "./cells.js";
import type { Comparability } from "./comparability.js";
import type { SurveySummary } from "./summary.js";
import { clearBelow, independentOf, verdictWhen } from "./verdict.js";

/** 'rise' and 'fall' only where the adjusted probability is below 0.05; NaN cannot be told. */
export function verdictOf(difference: number, adjustedProbability: number): Verdict {
  if (Number.isNaN(adjustedProbability) || Number.isNaN(difference)) return "cannot-tell";
  return verdictWhen(adjustedProbability < clearBelow, difference);
}

/** Why a figure cannot be tested against another; null where it can. */
function untestable(cell: EstimateCell): Message | null {
  if (cell.n < withholdBelow) return message("compare.change.reason.few-children", { limit: withholdBelow });
  if (cell.clusters !== null && cell.clusters < 2) return message("compare.change.reason.few-clusters");
  const { standardError, degreesOfFreedom } = cell;
  // Nobody, or everybody, is a case: the variance is 0, which is no measure of what chance could have done.
  if (standardError === 0) return message("compare.change.reason.no-spread");
  const known = standardError !== null && degreesOfFreedom !== null && degreesOfFreedom > 0;
  return known ? null : message("compare.change.reason.no-error");
}

/** One difference before its probability is held against the others of its family. */
function differenceOf(
  pair: Pair,
  estimate: string,
  comparability: Comparability,
  cells: readonly [EstimateCell | null, EstimateCell | null],
): Difference {
  const { rule } = comparability;
  const nothing: Difference = {
    pair: pair.id,
    estimate,
    rule,
    first: null,
    second: null,
    difference: null,
    standardError: null,
    degreesOfFreedom: null,
    interval: null,
    probability: null,
    adjustedProbability: null,
    verdict: "cannot-tell",
    cautions: comparability.cautions(pair, estimate),
  };
  const blocked = comparability.blocked(pair, estimate);
  if (blocked !== null) return { ...nothing, reason: blocked };
  const [first, second] = cells;
  if (first?.value == null || second?.value == null) throw new RangeError(`${pair.id} has no ${estimate}.`);
  const values = { first: first.value, second: second.value, difference: second.value - first.value };
  const reason = untestable(first) ?? untestable(second);
  if (reason !== null) return { ...nothing, ...values, reason };
  const found = compareIndependent(independentOf(second), independentOf(first));
  const { standardError, degreesOfFreedom, probability, low, high, level } = found;
  return { ...nothing, ...values, standardError, degreesOfFreedom, interval: { low, high, level }, probability };
}

/** Probabilities held to a common false-discovery rate, and the verdict by the result. */
function judged(family: readonly Difference[]): Difference[] {
  const adjusted = benjaminiHochberg(family.map(({ probability }) => probability ?? Number.NaN));
  return family.map((one, i) => {
    const adjustedProbability = adjusted[i] as number;
    if (one.difference === null || Number.isNaN(adjustedProbability)) return one;
    return { ...one, adjustedProbability, verdict: verdictOf(one.difference, adjustedProbability) };
  });
}

/**
 * Every pair on every estimate compared: second minus first on the estimate's own scale, variances added, Student's t with Welch
 * and Satterthwaite's degrees of freedom; never by the overlap of intervals, which misses clear differences (Schenker and
 * Gentleman, Am Stat 2001;55:182-6). Within each question (rounds, places) and estimate, Benjamini and Hochberg's adjustment.
 *
 * @throws RangeError for a pair of which a survey is not among the summaries
 */
export function differencesOf(
  pairs: readonly Pair[],
  summaries: readonly SurveySummary[],
  comparability: Comparability,
): Difference[] {
  const survey = new Map(summaries.map((one) => [one.key, one]));
  return comparability.estimates.flatMap((estimate) => {
    const cell = (key: string): EstimateCell | null => {
      const one = survey.get(key);
      return one === undefined ? null : cellUnder(one, estimate, comparability.rule);
    };
    return (["rounds", "places"] as const).flatMap((question) =>
      judged(
        pairs
          .filter((pair) => pair.question === question)
          .map((pair) => differenceOf(pair, estimate, comparability, [cell(pair.first), cell(pair.second)])),
      ),
    );
  });
}
