import { clusterVariance } from "./cluster-variance.js";
import { domainSums, memberScore } from "./domain.js";
import type { SurveyDesign } from "./survey-design.js";

/** A weighted share with its design-based variance. NaN where the domain is empty. */
export interface ProportionEstimate {
  /** Weighted share, 0 to 1. */
  readonly estimate: number;
  readonly variance: number;
  readonly standardError: number;
  /** Rows used, unweighted. */
  readonly n: number;
  /** Cases among them, unweighted. */
  readonly cases: number;
  /** Clusters with a row in the domain. */
  readonly clusters: number;
  /** Clusters with a row in the domain minus strata with one. */
  readonly degreesOfFreedom: number;
  /** variance / (p (1 - p) / n); NaN when p is 0 or 1. */
  readonly designEffect: number;
  /**
   * variance / ((1 - n/N) p (1 - p) / (n - 1)) with N the sum of weights: against simple random sampling without
   * replacement. NaN when p is 0 or 1, or the weights do not add up to more than n (they are then not population counts).
   */
  readonly designEffectWithoutReplacement: number;
  /** Strata of the design with one cluster only. */
  readonly singleClusterStrata: number;
}

/**
 * Share of cases in a domain, design-based. p = sum w y / sum w over the domain; variance by Taylor linearization with
 * z_i = sum over the cluster of w (y - p) / sum w, zero for clusters without a member, all clusters kept.
 *
 * Source: Cochran, Sampling Techniques, 1977, ch. 6 and 11; Lohr, Sampling, 2010, ch. 9. Design effect: Kish 1965.
 *
 * @param isCase 1 case, 0 not; NaN is left out of the domain
 * @param inDomain 1 in, 0 out
 */
export function estimateProportion(
  design: SurveyDesign,
  isCase: Uint8Array | Float64Array,
  inDomain: Uint8Array,
): ProportionEstimate {
  const sums = domainSums(design, isCase, inDomain);
  const { n, clusters, degreesOfFreedom } = sums;
  // Exactly 1 when all are cases: both sums then add the same weights in the same order.
  const estimate = sums.total / sums.weight;
  const scores = sums.totalOfCluster.map(
    (total, c) => (total - estimate * (sums.weightOfCluster[c] as number)) / sums.weight,
  );
  const { variance, singleClusterStrata } = clusterVariance(
    design,
    scores,
    (i) => memberScore(design, isCase, inDomain, i, estimate) / sums.weight,
  );
  const simple = estimate * (1 - estimate);
  const remaining = 1 - n / sums.weight;
  return {
    estimate,
    variance,
    standardError: Math.sqrt(variance),
    n,
    cases: sums.sum,
    clusters,
    degreesOfFreedom,
    designEffect: simple > 0 ? variance / (simple / n) : Number.NaN,
    designEffectWithoutReplacement:
      simple > 0 && n > 1 && remaining > 0 ? variance / ((remaining * simple) / (n - 1)) : Number.NaN,
    singleClusterStrata,
  };
}
