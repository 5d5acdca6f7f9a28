/**
 * How a sample was drawn: clusters within strata, with weights. All per-row arrays have `count` entries.
 *
 * A row counts when it has a cluster and a weight above 0. Any other row is outside every estimate (not in n, not a
 * case), yet its cluster, where it has one, stays part of the design and of the variance, as a cluster that was visited
 * and held nobody.
 */
export interface SurveyDesign {
  readonly count: number;
  /** Cluster of every row, 0 to clusterCount - 1, each cluster within one stratum; -1 for a row that cannot count. */
  readonly cluster: Int32Array;
  readonly clusterCount: number;
  /** Stratum of every row, 0 to stratumCount - 1; -1 for a row that cannot count. */
  readonly stratum: Int32Array;
  /** Number of stratum codes; a stratum without any row has no part in anything. */
  readonly stratumCount: number;
  /** Sampling weight of every row; 0 (or NaN) for a row that cannot count. */
  readonly weight: Float64Array;
  /**
   * Clusters in the population of each stratum, for the finite population correction; Infinity for a stratum without
   * one. Null: no correction anywhere.
   */
  readonly clustersInPopulation: Float64Array | null;
  /** Rows of every cluster, those outside a domain or without a weight included. */
  readonly membersOfCluster: Int32Array;
  /** Members of every cluster in the population, for the second stage of sampling; NaN where not known. Null: nowhere known. */
  readonly membersInPopulation: Float64Array | null;
}

/** What a design is made of. Null where the survey has no such thing. */
export interface DesignParts {
  readonly count: number;
  /** Codes from 0; -1 missing. Null: every row is a cluster of its own. */
  readonly cluster: ArrayLike<number> | null;
  /** Codes from 0; -1 missing. Null: one stratum. */
  readonly stratum: ArrayLike<number> | null;
  /** Null: every row weighs 1. Missing, infinite, zero and negative weights become 0. */
  readonly weight: ArrayLike<number> | null;
  /** One number a stratum code; anything not above 0 means no correction there. Null or absent: no correction anywhere. */
  readonly clustersInPopulation?: ArrayLike<number> | null;
  /**
   * One number a row: the members of its cluster in the population; anything not above 0 means not known. Null or absent: nowhere
   * known. Without clusters each row is all of its own.
   */
  readonly membersInPopulation?: ArrayLike<number> | null;
}

/**
 * Makes a design: puts clusters inside strata (one code seen in two strata makes two clusters), numbers them in order of
 * first appearance, and gives weight 0 to rows that cannot count.
 *
 * @throws RangeError when a part is shorter than `count`
 */
export function makeDesign(parts: DesignParts): SurveyDesign {
  const { count } = parts;
  for (const column of [parts.cluster, parts.stratum, parts.weight]) {
    if (column !== null && column.length < count)
      throw new RangeError("A part of the design is shorter than the data.");
  }
  const stratum = new Int32Array(count);
  let stratumCount = 1;
  for (let i = 0; i < count; i++) {
    const code = parts.stratum === null ? 0 : (parts.stratum[i] as number);
    stratum[i] = code >= 0 ? code : -1;
    if (code >= stratumCount) stratumCount = code + 1;
  }
  const { cluster, clusterCount } = nest(parts.cluster, stratum, stratumCount);
  const weight = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const value = parts.weight === null ? 1 : (parts.weight[i] as number);
    if ((cluster[i] as number) >= 0 && value > 0 && value < Number.POSITIVE_INFINITY) weight[i] = value;
  }
  const population = parts.clustersInPopulation ?? null;
  const clustersInPopulation =
    population === null
      ? null
      : Float64Array.from({ length: stratumCount }, (_, h) => {
          const size = population[h] as number;
          return size > 0 ? size : Number.POSITIVE_INFINITY;
        });
  const membersOfCluster = new Int32Array(clusterCount);
  for (const c of cluster) if (c >= 0) membersOfCluster[c] = (membersOfCluster[c] as number) + 1;
  const membersInPopulation =
    parts.cluster === null
      ? new Float64Array(clusterCount).fill(1)
      : membersGiven(parts.membersInPopulation ?? null, cluster, clusterCount);
  return {
    count,
    cluster,
    clusterCount,
    stratum,
    stratumCount,
    weight,
    clustersInPopulation,
    membersOfCluster,
    membersInPopulation,
  };
}

/** The members of every cluster in the population, from what its first row says. */
function membersGiven(given: ArrayLike<number> | null, cluster: Int32Array, clusterCount: number): Float64Array | null {
  if (given === null) return null;
  const members = new Float64Array(clusterCount).fill(Number.NaN);
  for (let i = 0; i < cluster.length; i++) {
    const c = cluster[i] as number;
    if (c >= 0 && Number.isNaN(members[c]) && (given[i] as number) > 0) members[c] = given[i] as number;
  }
  return members;
}

function nest(
  codes: ArrayLike<number> | null,
  stratum: Int32Array,
  stratumCount: number,
): { readonly cluster: Int32Array; readonly clusterCount: number } {
  const cluster = new Int32Array(stratum.length).fill(-1);
  const seen = new Map<number, number>();
  let clusterCount = 0;
  for (let i = 0; i < stratum.length; i++) {
    const place = stratum[i] as number;
    const code = codes === null ? i : (codes[i] as number);
    if (place < 0 || !(code >= 0)) continue;
    const key = code * stratumCount + place;
    const known = codes === null ? undefined : seen.get(key);
    cluster[i] = known ?? clusterCount;
    if (known !== undefined) continue;
    if (codes !== null) seen.set(key, clusterCount);
    clusterCount++;
  }
  return { cluster, clusterCount };
}

/** The clusters of a design, seen from the strata. */
export interface DesignShape {
  /** Stratum of each cluster; -1 for a cluster without a row. */
  readonly stratumOfCluster: Int32Array;
  /** Clusters of each stratum. */
  readonly clustersInStratum: Int32Array;
}

const shapes = new WeakMap<Int32Array, DesignShape>();

/**
 * The stratum of each cluster and the clusters of each stratum. Made in one pass over the rows and remembered for the
 * design's cluster column, so that the same design with other weights costs nothing more.
 */
export function designShape(design: SurveyDesign): DesignShape {
  const known = shapes.get(design.cluster);
  if (known !== undefined && known.clustersInStratum.length === design.stratumCount) return known;
  const stratumOfCluster = new Int32Array(design.clusterCount).fill(-1);
  const clustersInStratum = new Int32Array(design.stratumCount);
  for (let i = 0; i < design.count; i++) {
    const cluster = design.cluster[i] as number;
    const stratum = design.stratum[i] as number;
    if (cluster < 0 || stratum < 0 || (stratumOfCluster[cluster] as number) >= 0) continue;
    stratumOfCluster[cluster] = stratum;
    clustersInStratum[stratum] = (clustersInStratum[stratum] as number) + 1;
  }
  const shape = { stratumOfCluster, clustersInStratum };
  shapes.set(design.cluster, shape);
  return shape;
}

/**
 * The same design seen at some rows only, in the order given. All its clusters and strata stay, also those that none of
 * the rows belongs to, so that an estimate from these rows is that of the domain they make in the whole design; it costs a
 * pass over these rows, and not over all.
 */
export function designAt(design: SurveyDesign, rows: Int32Array): SurveyDesign {
  const count = rows.length;
  const cluster = new Int32Array(count);
  const stratum = new Int32Array(count);
  const weight = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const row = rows[k] as number;
    cluster[k] = design.cluster[row] as number;
    stratum[k] = design.stratum[row] as number;
    weight[k] = design.weight[row] as number;
  }
  shapes.set(cluster, designShape(design));
  return { ...design, count, cluster, stratum, weight };
}
