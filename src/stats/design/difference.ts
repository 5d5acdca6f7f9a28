import { confidenceLevel } from "../confidence.js";
import { studentQuantile, studentTwoSided } from "../student-t.js";

/** A difference with its test. NaN where it cannot be computed. */
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
