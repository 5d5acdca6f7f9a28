import { confidenceLevel } from "../confidence.js";
import { studentQuantile, studentTwoSided } from "../student-t.js";
import { clusterVariance } from "./cluster-variance.js";
import { domainSums, memberScore, reached } from "./domain.js";
import type { SurveyDesign } from "./survey-design.js";

/** A difference with its design-based test. NaN where it cannot be computed. */
export interface Difference {
  /** First minus second. */
  readonly difference: number;
  readonly standardError: number;
  /** difference / standardError; NaN when the standard error is 0. */
  readonly t: number;
  readonly degreesOfFreedom: number;
  /** Two-sided. */
  readonly probability: number;
  /** Confidence interval of the difference, at `level`. */
  readonly low: number;
  readonly high: number;
  readonly level: number;
}

/**
 * Difference between the means (or shares) of two domains of one survey, design-based: z_i = z1_i - z2_i for each cluster, so
 * that clusters with members of both enter with their covariance.
 *
 * Degrees of freedom: clusters with a member of either domain minus strata with one. (A regression on the group gives
 * the same t with one degree of freedom fewer.)
 *
 * @param values NaN is left out; 0/1 for a share
 * @param inFirst 1 in the first domain
 * @param inSecond 1 in the second domain
 */
export function compareTwo(
  design: SurveyDesign,
  values: ArrayLike<number>,
  inFirst: Uint8Array,
  inSecond: Uint8Array,
  level = confidenceLevel,
): Difference {
  const first = domainSums(design, values, inFirst);
  const second = domainSums(design, values, inSecond);
  const firstMean = first.total / first.weight;
  const secondMean = second.total / second.weight;
  const scores = new Float64Array(design.clusterCount);
  const either = new Float64Array(design.clusterCount);
  for (let c = 0; c < scores.length; c++) {
    const one = first.weightOfCluster[c] as number;
    const two = second.weightOfCluster[c] as number;
    either[c] = one + two;
    scores[c] =
      ((first.totalOfCluster[c] as number) - firstMean * one) / first.weight -
      ((second.totalOfCluster[c] as number) - secondMean * two) / second.weight;
  }
  const { variance } = clusterVariance(
    design,
    scores,
    (i) =>
      memberScore(design, values, inFirst, i, firstMean) / first.weight -
      memberScore(design, values, inSecond, i, secondMean) / second.weight,
  );
  return test(firstMean - secondMean, variance, reached(design, either).degreesOfFreedom, level);
}

/** What a difference between two surveys needs of each. */
export interface IndependentEstimate {
  readonly estimate: number;
  readonly variance: number;
  readonly degreesOfFreedom: number;
}

/**
 * Difference between two surveys that share no cluster: variances add; degrees of freedom by Welch and Satterthwaite,
 * (v1 + v2)^2 / (v1^2/df1 + v2^2/df2). Where the same clusters were visited twice this is not right.
 */
export function compareIndependent(
  first: IndependentEstimate,
  second: IndependentEstimate,
  level = confidenceLevel,
): Difference {
  const variance = first.variance + second.variance;
  const degreesOfFreedom =
    variance ** 2 / (first.variance ** 2 / first.degreesOfFreedom + second.variance ** 2 / second.degreesOfFreedom);
  return test(first.estimate - second.estimate, variance, degreesOfFreedom, level);
}

function test(difference: number, variance: number, degreesOfFreedom: number, level: number): Difference {
  const standardError = Math.sqrt(variance);
  const t = standardError > 0 ? difference / standardError : Number.NaN;
  const half = studentQuantile(1 - (1 - level) / 2, degreesOfFreedom) * standardError;
  return {
    difference,
    standardError,
    t,
    degreesOfFreedom,
    probability: Number.isNaN(t) ? Number.NaN : studentTwoSided(t, degreesOfFreedom),
    low: difference - half,
    high: difference + half,
    level,
  };
}
