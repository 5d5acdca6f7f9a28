import type { Comparison } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { EstimateCell, Message } from "../results/schema.js";
import { confidenceLevel } from "../stats/confidence.js";
import { logitInterval, meanInterval } from "../stats/design/interval.js";
import { heterogeneityOf } from "../stats/meta/heterogeneity.js";
import { usableStudies } from "../stats/meta/pool.js";
import { combineStrata } from "../stats/meta/strata.js";
import { tauSquaredOf } from "../stats/meta/tau-squared.js";
import { studentQuantile } from "../stats/student-t.js";
import { cellUnder, fewOf, kindOf, surveyName } from "./cells.js";
import type { Comparability } from "./comparability.js";
import type { SurveySummary } from "./summary.js";

export type Pooled = Comparison["pooled"][number];

interface Member {
  readonly survey: SurveySummary;
  readonly cell: EstimateCell;
}

const interval = (low: number, high: number) =>
  Number.isFinite(low) && Number.isFinite(high) ? { low, high, level: confidenceLevel } : null;

/** Why the surveys of a round cannot be combined by the sizes of their populations; null where they can. */
function notCombined(members: readonly Member[]): Message | null {
  if (new Set(members.map(({ survey }) => survey.place)).size < members.length) {
    return message("compare.pooled.reason.place-twice");
  }
  const without = members.filter(({ survey }) => survey.populationSize === null);
  if (without.length === members.length) return message("compare.pooled.reason.no-sizes");
  if (without.length > 0) {
    return message("compare.pooled.reason.some-sizes", { ...fewOf(without.map(({ survey }) => surveyName(survey))) });
  }
  const known = members.every(({ cell }) => Number.isFinite(varianceOf(cell)) && cell.degreesOfFreedom !== null);
  return known ? null : message("compare.pooled.reason.no-error");
}

/**
 * Variance of a survey's estimate. One without a case, or with nothing but cases, shows no variance of its own, which does not
 * make it certain: its interval is exact and one-sided, and the variance is taken from that, ((limit - value) / t)^2 with
 * the farther limit and t the 97.5th percentile of Student's t (own rule). NaN where there is no interval either.
 */
function varianceOf({ value, standardError, degreesOfFreedom, interval: own }: EstimateCell): number {
  if (standardError === null || standardError > 0) return (standardError ?? Number.NaN) ** 2;
  if (value === null || own === null || degreesOfFreedom === null) return Number.NaN;
  const reach = Math.max(own.high - value, value - own.low);
  return (reach / studentQuantile(1 - (1 - own.level) / 2, degreesOfFreedom)) ** 2;
}

function combinedOf(members: readonly Member[], estimate: string): Pooled["combined"] {
  const strata = members.map(({ survey, cell }) => ({
    estimate: cell.value ?? Number.NaN,
    variance: varianceOf(cell),
    degreesOfFreedom: cell.degreesOfFreedom ?? Number.NaN,
    population: survey.populationSize ?? Number.NaN,
  }));
  const { estimate: value, standardError, degreesOfFreedom } = combineStrata(strata);
  if (!Number.isFinite(value) || !Number.isFinite(standardError) || !Number.isFinite(degreesOfFreedom)) return null;
  const limits = kindOf(estimate) === "mean" ? meanInterval : logitInterval;
  const { low, high } = limits(value, standardError, degreesOfFreedom, confidenceLevel);
  return { value, standardError, degreesOfFreedom, interval: interval(low, high) };
}

function heterogeneityResult(members: readonly Member[]): Pooled["heterogeneity"] {
  const studies = usableStudies(
    members.map(({ cell }) => cell.value ?? Number.NaN),
    members.map(({ cell }) => (cell.standardError ?? Number.NaN) ** 2),
  );
  if (studies.values.length < 2) return null;
  const { q, degreesOfFreedom, probability, iSquared, low, high } = heterogeneityOf(studies, confidenceLevel);
  const between = tauSquaredOf(studies, confidenceLevel);
  return {
    q,
    degreesOfFreedom,
    probability,
    iSquared,
    iSquaredInterval: interval(low, high),
    tauSquared: between.tauSquared,
    tauSquaredInterval: interval(between.low, between.high),
  };
}

/** The surveys of an estimate that stand on one axis, by round, earliest round first; a missing round stands last. */
export function membersByRound(comparability: Comparability, estimate: string): Map<string | null, Member[]> {
  const rounds = new Map<string | null, Member[]>();
  for (const survey of comparability.together(estimate).surveys) {
    const cell = cellUnder(survey, estimate, comparability.rule);
    if (cell === null) continue;
    const known = rounds.get(survey.round);
    if (known === undefined) rounds.set(survey.round, [{ survey, cell }]);
    else known.push({ survey, cell });
  }
  const day = (members: readonly Member[]): string =>
    members.reduce(
      (least, { survey }) => (survey.firstDay !== null && survey.firstDay < least ? survey.firstDay : least),
      "~",
    );
  return new Map(
    [...rounds].sort(([a, one], [b, two]) => {
      if (a === null || b === null) return Number(a === null) - Number(b === null);
      return day(one) < day(two) ? -1 : day(one) > day(two) ? 1 : 0;
    }),
  );
}

/**
 * The surveys of each round taken together, for each estimate: with population sizes for all, the figure of these populations as a
 * whole; and how far the surveys differ beyond chance. A round with one survey is left out.
 */
export function pooledOf(comparability: Comparability): Pooled[] {
  return comparability.estimates.flatMap((estimate) =>
    [...membersByRound(comparability, estimate)].flatMap(([round, members]) => {
      if (members.length < 2) return [];
      const reason = notCombined(members);
      const pooled: Pooled = {
        estimate,
        round,
        surveys: members.map(({ survey }) => survey.key),
        combined: reason === null ? combinedOf(members, estimate) : null,
        heterogeneity: heterogeneityResult(members),
      };
      return [reason === null ? pooled : { ...pooled, reason }];
    }),
  );
}
