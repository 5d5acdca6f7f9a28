import { type DesignShape, designShape, type SurveyDesign } from "./survey-design.js";

/** A variance over clusters. */
export interface ClusterVariance {
  readonly variance: number;
  /** Strata with one cluster only: their part is taken around the mean of all clusters, which is too large rather than too small. */
  readonly singleClusterStrata: number;
}

/**
 * Variance of a sum over clusters within strata, by Taylor linearization:
 *
 *   v = sum_h (1 - f_h) C_h / (C_h - 1) sum_i (z_hi - mean of z in h)^2
 *
 * z_hi is the sum of the linearized values of cluster i, C_h the clusters of stratum h, f_h = C_h / population (0 without
 * a finite population correction). A stratum with one cluster has no variance of its own: its cluster is taken around
 * the mean of all clusters, with factor 1 - f_h, and counted in `singleClusterStrata`. Variance between clusters is all
 * that enters: later stages of sampling are covered by it as long as few clusters of many were drawn.
 *
 * Source: Cochran, Sampling Techniques, 1977, ch. 11; Woodruff, JASA 1971;66:411-4.
 *
 * @param scores one number a cluster; clusters without a member of the domain have 0 and stay in
 */
export function clusterVariance(design: SurveyDesign, scores: Float64Array): ClusterVariance {
  const { variances, singleClusterStrata } = clusterCovariance(design, [scores]);
  return { variance: variances[0] as number, singleClusterStrata };
}

/** Covariances of several sums over clusters, by the formula of `clusterVariance`; row by row, `scores.length` squared. */
export function clusterCovariance(
  design: SurveyDesign,
  scores: readonly Float64Array[],
): { readonly variances: Float64Array; readonly singleClusterStrata: number } {
  const size = scores.length;
  const shape = designShape(design);
  const means = scores.map((score) => stratumMeans(design, shape, score));
  const variances = new Float64Array(size * size);
  const factors = stratumFactors(design, shape);
  for (let c = 0; c < design.clusterCount; c++) {
    const stratum = shape.stratumOfCluster[c] as number;
    if (stratum < 0) continue;
    const factor = factors[stratum] as number;
    for (let a = 0; a < size; a++) {
      const first = ((scores[a] as Float64Array)[c] as number) - ((means[a] as Float64Array)[stratum] as number);
      for (let b = 0; b <= a; b++) {
        const second = ((scores[b] as Float64Array)[c] as number) - ((means[b] as Float64Array)[stratum] as number);
        variances[a * size + b] = (variances[a * size + b] as number) + factor * first * second;
      }
    }
  }
  for (let a = 0; a < size; a++)
    for (let b = 0; b < a; b++) variances[b * size + a] = variances[a * size + b] as number;
  let singleClusterStrata = 0;
  for (const clusters of shape.clustersInStratum) if (clusters === 1) singleClusterStrata++;
  return { variances, singleClusterStrata };
}

/**
 * (1 - f_h) C_h / (C_h - 1); for a stratum with one cluster 1 - f_h. NaN, and so the variance, where the sample holds more
 * clusters than the population is said to have.
 */
function stratumFactors(design: SurveyDesign, shape: DesignShape): Float64Array {
  return Float64Array.from(shape.clustersInStratum, (clusters, h) => {
    const fraction = design.clustersInPopulation === null ? 0 : clusters / (design.clustersInPopulation[h] as number);
    if (fraction > 1) return Number.NaN;
    return (1 - fraction) * (clusters > 1 ? clusters / (clusters - 1) : 1);
  });
}

/** Mean of the clusters of each stratum; for a stratum with one cluster the mean of all clusters. */
function stratumMeans(design: SurveyDesign, shape: DesignShape, scores: Float64Array): Float64Array {
  const sums = new Float64Array(design.stratumCount);
  let total = 0;
  let clusterCount = 0;
  for (let c = 0; c < design.clusterCount; c++) {
    const stratum = shape.stratumOfCluster[c] as number;
    if (stratum < 0) continue;
    clusterCount++;
    sums[stratum] = (sums[stratum] as number) + (scores[c] as number);
    total += scores[c] as number;
  }
  return sums.map((sum, h) => {
    const clusters = shape.clustersInStratum[h] as number;
    return clusters === 1 ? total / clusterCount : sum / clusters;
  });
}
