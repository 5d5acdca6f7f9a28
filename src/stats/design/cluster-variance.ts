import { type DesignShape, designShape, type SurveyDesign } from "./survey-design.js";

/** A variance over clusters. */
export interface ClusterVariance {
  readonly variance: number;
  /** Strata with one cluster only: their part is taken around the mean of all clusters, which is too large rather than too small. */
  readonly singleClusterStrata: number;
}

/** The linearized value of a row for one of the sums: `scores` holds their sums by cluster. 0 outside the domain. */
export type RowScore = (row: number, which: number) => number;

/**
 * Variance of a sum over clusters within strata, by Taylor linearization:
 *
 *   v = sum_h (1 - f_h) C_h / (C_h - 1) sum_i (z_hi - mean of z in h)^2
 *     + sum_h f_h sum_i (1 - g_hi) m_hi / (m_hi - 1) sum_j (u_hij - mean of u in i)^2
 *
 * u_hij is the linearized value of row j, z_hi the sum of those of cluster i, C_h the clusters of stratum h, f_h = C_h /
 * clusters in the population, m_hi the rows of the cluster, g_hi = m_hi / members of the cluster in the population. Without a
 * finite population correction f_h is 0: variance between clusters is then all that enters, and it covers the second stage.
 * With one, the first line alone would take the second stage as measured whole, so the second line has to stand beside it.
 * Where the members of a cluster in the population are not known, g_hi is 0, which is too large rather than too small; a
 * cluster of one row, which says nothing of how its members differ, gets no correction. A stratum with one cluster has no
 * variance of its own: its cluster is taken around the mean of all clusters, with factor 1 - f_h, and counted in
 * `singleClusterStrata`.
 *
 * Source: Cochran, Sampling Techniques, 1977, ch. 10 and 11; Lohr, Sampling, 2010, ch. 5 and 6 (second stage; from memory);
 * Woodruff, JASA 1971;66:411-4.
 *
 * @param scores one number a cluster; clusters without a member of the domain have 0 and stay in
 * @param rowScore the linearized values that add up to `scores`; read only where there is a finite population
 */
export function clusterVariance(
  design: SurveyDesign,
  scores: Float64Array,
  rowScore: (row: number) => number,
): ClusterVariance {
  const { variances, singleClusterStrata } = clusterCovariance(design, [scores], rowScore);
  return { variance: variances[0] as number, singleClusterStrata };
}

/** Covariances of several sums over clusters, by the formula of `clusterVariance`; row by row, `scores.length` squared. */
export function clusterCovariance(
  design: SurveyDesign,
  scores: readonly Float64Array[],
  rowScore: RowScore,
): { readonly variances: Float64Array; readonly singleClusterStrata: number } {
  const size = scores.length;
  const shape = designShape(design);
  const means = scores.map((score) => stratumMeans(design, shape, score));
  const variances = new Float64Array(size * size);
  const stages = stageFactors(design, shape);
  const first = new Float64Array(size);
  for (let c = 0; c < design.clusterCount; c++) {
    const stratum = shape.stratumOfCluster[c] as number;
    if (stratum < 0) continue;
    for (let a = 0; a < size; a++) {
      first[a] = ((scores[a] as Float64Array)[c] as number) - ((means[a] as Float64Array)[stratum] as number);
    }
    addProducts(variances, first, stages.between[c] as number);
  }
  if (stages.within !== null) addWithin({ design, scores, rowScore, variances }, stages.within);
  for (let a = 0; a < size; a++)
    for (let b = 0; b < a; b++) variances[b * size + a] = variances[a * size + b] as number;
  let singleClusterStrata = 0;
  for (const clusters of shape.clustersInStratum) if (clusters === 1) singleClusterStrata++;
  return { variances, singleClusterStrata };
}

/** Adds factor times a b to the lower triangle, for every pair of the values. */
function addProducts(variances: Float64Array, values: Float64Array, factor: number): void {
  const size = values.length;
  for (let a = 0; a < size; a++) {
    const weighted = factor * (values[a] as number);
    for (let b = 0; b <= a; b++) {
      variances[a * size + b] = (variances[a * size + b] as number) + weighted * (values[b] as number);
    }
  }
}

/** The second stage: factor times the sum of squares within each cluster, sum u^2 - (sum u)^2 / m. */
function addWithin(
  given: {
    readonly design: SurveyDesign;
    readonly scores: readonly Float64Array[];
    readonly rowScore: RowScore;
    readonly variances: Float64Array;
  },
  within: Float64Array,
): void {
  const { design, scores, rowScore, variances } = given;
  const values = new Float64Array(scores.length);
  for (let c = 0; c < design.clusterCount; c++) {
    const factor = within[c] as number;
    if (factor === 0) continue;
    for (let a = 0; a < values.length; a++) values[a] = (scores[a] as Float64Array)[c] as number;
    addProducts(variances, values, -factor / (design.membersOfCluster[c] as number));
  }
  for (let i = 0; i < design.count; i++) {
    const c = design.cluster[i] as number;
    const factor = c < 0 ? 0 : (within[c] as number);
    if (factor === 0) continue;
    for (let a = 0; a < values.length; a++) values[a] = rowScore(i, a);
    addProducts(variances, values, factor);
  }
}

/** What the squares between clusters, and those within each, are multiplied by; `within` null where no cluster has any. */
interface StageFactors {
  readonly between: Float64Array;
  readonly within: Float64Array | null;
}

/**
 * Factors of the two lines of `clusterVariance`, one a cluster. NaN, and so the variance, where the sample holds more clusters
 * than the population is said to have.
 */
function stageFactors(design: SurveyDesign, shape: DesignShape): StageFactors {
  const between = new Float64Array(design.clusterCount);
  const within = new Float64Array(design.clusterCount);
  for (let c = 0; c < design.clusterCount; c++) {
    const stratum = shape.stratumOfCluster[c] as number;
    if (stratum < 0) continue;
    const clusters = shape.clustersInStratum[stratum] as number;
    const drawn =
      design.clustersInPopulation === null ? 0 : clusters / (design.clustersInPopulation[stratum] as number);
    const spread = clusters > 1 ? clusters / (clusters - 1) : 1;
    const members = design.membersOfCluster[c] as number;
    const open = drawn > 0 ? shareNotMeasured(design, c) : 0;
    const cannotTell = open > 0 && members < 2;
    between[c] = drawn > 1 ? Number.NaN : (cannotTell ? 1 : 1 - drawn) * spread;
    within[c] = open > 0 && !cannotTell ? (drawn * open * members) / (members - 1) : 0;
  }
  return { between, within: within.some((factor) => factor !== 0) ? within : null };
}

/** 1 - g: the share of a cluster's members that were not drawn; 1, all of them, where their number is not known. */
function shareNotMeasured(design: SurveyDesign, cluster: number): number {
  const members = design.membersInPopulation?.[cluster] ?? Number.NaN;
  return Number.isNaN(members) ? 1 : Math.max(0, 1 - (design.membersOfCluster[cluster] as number) / members);
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
