import { designShape, type SurveyDesign } from "./survey-design.js";

/** Weighted sums over the rows of a domain, for each cluster and in all. */
export interface DomainSums {
  /** Rows of the domain with a weight and a value. */
  readonly n: number;
  /** Sum of weights. */
  readonly weight: number;
  /** Sum of weight times value. */
  readonly total: number;
  /** Unweighted sum of values. */
  readonly sum: number;
  readonly weightOfCluster: Float64Array;
  readonly totalOfCluster: Float64Array;
  /** Clusters with a row in the domain. */
  readonly clusters: number;
  /** Clusters with a row in the domain minus strata with one. */
  readonly degreesOfFreedom: number;
}

/**
 * One pass over the rows: weighted sums of a domain. A row outside the domain, without weight, or with value NaN is
 * skipped.
 *
 * Degrees of freedom: clusters with a member of the domain minus strata with one (clusters minus strata for the whole
 * sample). Source: Korn and Graubard, Analysis of Health Surveys, 1999; NHANES analytic guidance for subgroups.
 *
 * @throws RangeError when values or domain are shorter than the design
 */
export function domainSums(design: SurveyDesign, values: ArrayLike<number>, inDomain: ArrayLike<number>): DomainSums {
  if (values.length < design.count || inDomain.length < design.count) {
    throw new RangeError("Values and domain must have one entry a row of the design.");
  }
  const weightOfCluster = new Float64Array(design.clusterCount);
  const totalOfCluster = new Float64Array(design.clusterCount);
  let n = 0;
  let weight = 0;
  let total = 0;
  let sum = 0;
  for (let i = 0; i < design.count; i++) {
    const value = values[i] as number;
    const w = design.weight[i] as number;
    if (inDomain[i] !== 1 || !(w > 0) || Number.isNaN(value)) continue;
    const c = design.cluster[i] as number;
    n++;
    sum += value;
    weight += w;
    total += w * value;
    weightOfCluster[c] = (weightOfCluster[c] as number) + w;
    totalOfCluster[c] = (totalOfCluster[c] as number) + w * value;
  }
  return { n, weight, total, sum, weightOfCluster, totalOfCluster, ...reached(design, weightOfCluster) };
}

/** Clusters with weight in the domain, and those minus strata with one. */
export function reached(
  design: SurveyDesign,
  weightOfCluster: Float64Array,
): { readonly clusters: number; readonly degreesOfFreedom: number } {
  const { stratumOfCluster } = designShape(design);
  const strata = new Uint8Array(design.stratumCount);
  let clusters = 0;
  for (let c = 0; c < design.clusterCount; c++) {
    if (!((weightOfCluster[c] as number) > 0)) continue;
    clusters++;
    strata[stratumOfCluster[c] as number] = 1;
  }
  let stratumCount = 0;
  for (const seen of strata) stratumCount += seen;
  return { clusters, degreesOfFreedom: clusters - stratumCount };
}

/** w (x - centre) of one row of a domain; 0 for a row outside it, without weight or without a value. */
export function memberScore(
  design: SurveyDesign,
  values: ArrayLike<number>,
  inDomain: ArrayLike<number>,
  row: number,
  centre: number,
): number {
  const value = values[row] as number;
  const w = design.weight[row] as number;
  return inDomain[row] === 1 && w > 0 && !Number.isNaN(value) ? w * (value - centre) : 0;
}
