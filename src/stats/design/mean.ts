import { clusterVariance } from "./cluster-variance.js";
import { domainSums, memberScore } from "./domain.js";
import type { SurveyDesign } from "./survey-design.js";

/** A weighted mean with its design-based variance. NaN where the domain is empty. */
export interface MeanEstimate {
  readonly estimate: number;
  readonly variance: number;
  readonly standardError: number;
  /** Rows used, unweighted. */
  readonly n: number;
  /** Clusters with a row in the domain. */
  readonly clusters: number;
  /** Clusters with a row in the domain minus strata with one. */
  readonly degreesOfFreedom: number;
  /** variance / (s^2 / n), s^2 = n / (n - 1) sum w (x - mean)^2 / sum w. NaN when the values do not vary. */
  readonly designEffect: number;
  /** Strata of the design with one cluster only. */
  readonly singleClusterStrata: number;
}

/**
 * Mean of a domain, design-based: sum w x / sum w, variance by Taylor linearization as for a share.
 *
 * Source: Cochran, Sampling Techniques, 1977, ch. 6 and 11; Lohr, Sampling, 2010, ch. 9.
 *
 * @param values NaN is left out of the domain
 * @param inDomain 1 in, 0 out
 */
export function estimateMean(design: SurveyDesign, values: ArrayLike<number>, inDomain: Uint8Array): MeanEstimate {
  const sums = domainSums(design, values, inDomain);
  const { n, clusters, degreesOfFreedom } = sums;
  const estimate = sums.total / sums.weight;
  const scores = sums.totalOfCluster.map(
    (total, c) => (total - estimate * (sums.weightOfCluster[c] as number)) / sums.weight,
  );
  const { variance, singleClusterStrata } = clusterVariance(
    design,
    scores,
    (i) => memberScore(design, values, inDomain, i, estimate) / sums.weight,
  );
  const spread = weightedVariance(design, values, inDomain, estimate);
  return {
    estimate,
    variance,
    standardError: Math.sqrt(variance),
    n,
    clusters,
    degreesOfFreedom,
    designEffect: spread > 0 ? variance / (spread / n) : Number.NaN,
    singleClusterStrata,
  };
}

/** n / (n - 1) sum w (x - mean)^2 / sum w over the domain; NaN for fewer than two rows. */
export function weightedVariance(
  design: SurveyDesign,
  values: ArrayLike<number>,
  inDomain: ArrayLike<number>,
  mean: number,
): number {
  let n = 0;
  let weight = 0;
  let squares = 0;
  for (let i = 0; i < design.count; i++) {
    const value = values[i] as number;
    const w = design.weight[i] as number;
    if (inDomain[i] !== 1 || !(w > 0) || Number.isNaN(value)) continue;
    n++;
    weight += w;
    squares += w * (value - mean) ** 2;
  }
  return n > 1 ? ((n / (n - 1)) * squares) / weight : Number.NaN;
}
