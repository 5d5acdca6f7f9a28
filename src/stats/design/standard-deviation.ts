import { domainSums } from "./domain.js";
import { estimateMean } from "./mean.js";
import type { SurveyDesign } from "./survey-design.js";

/** A weighted standard deviation with its design-based standard error. NaN where the domain has fewer than two rows. */
export interface StandardDeviationEstimate {
  /** Standard deviation of the population, estimated. */
  readonly estimate: number;
  readonly standardError: number;
  /** The variance of the values (the square of `estimate`). */
  readonly varianceOfValues: number;
  /** Standard error of `varianceOfValues`. */
  readonly standardErrorOfVariance: number;
  readonly n: number;
  readonly degreesOfFreedom: number;
  /** Strata of the design with one cluster only. */
  readonly singleClusterStrata: number;
}

/**
 * Standard deviation of a domain, design-based.
 *
 *   s^2 = n / (n - 1) sum w (x - mean)^2 / sum w
 *
 * s^2 is the weighted mean of n / (n - 1) (x - mean)^2, and its standard error is that mean's by Taylor linearization (the
 * mean's own error adds nothing at first order). SE(s) = SE(s^2) / (2 s), the delta method.
 *
 * @param values NaN is left out of the domain
 * @param inDomain 1 in, 0 out
 */
export function estimateStandardDeviation(
  design: SurveyDesign,
  values: ArrayLike<number>,
  inDomain: Uint8Array,
): StandardDeviationEstimate {
  const { n, total, weight } = domainSums(design, values, inDomain);
  const mean = total / weight;
  const squares = new Float64Array(design.count);
  for (let i = 0; i < design.count; i++) {
    squares[i] = n > 1 ? (n / (n - 1)) * ((values[i] as number) - mean) ** 2 : Number.NaN;
  }
  const result = estimateMean(design, squares, inDomain);
  const estimate = Math.sqrt(result.estimate);
  return {
    estimate,
    standardError: estimate > 0 ? result.standardError / (2 * estimate) : Number.NaN,
    varianceOfValues: result.estimate,
    standardErrorOfVariance: result.standardError,
    n,
    degreesOfFreedom: result.degreesOfFreedom,
    singleClusterStrata: result.singleClusterStrata,
  };
}
