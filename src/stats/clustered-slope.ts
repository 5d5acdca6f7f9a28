/** Components of variance of values grouped in clusters. */
export interface VarianceComponents {
  /** Variance among members of a cluster. */
  readonly within: number;
  /** Variance of cluster means about their own set's mean; 0 where the estimate is negative. */
  readonly between: number;
  /** Degrees of freedom of the between component: clusters less sets. */
  readonly degreesOfFreedom: number;
  /** Degrees of freedom of the within component: values less clusters. */
  readonly withinDegreesOfFreedom: number;
  /** Mean square between clusters of a set, and the mean size of a cluster m0: MSB has expectation within + m0 between. */
  readonly meanSquareBetween: number;
  readonly perCluster: number;
}

/**
 * Variance components of values in clusters that belong to larger sets, each set with its own mean (nested one-way analysis
 * of variance, method of moments):
 *
 *   within  = SSW / (n - clusters)
 *   between = max(0, (MSB - within) / m0), MSB = sum_c n_c (mean_c - mean_set)^2 / (clusters - sets)
 *   m0      = (n - sum_sets (sum_c n_c^2 / n_set)) / (clusters - sets)
 *
 * Source: Searle, Casella and McCulloch 1992, Variance Components (from memory). `cluster` gives the cluster of every value
 * (-1: not used), `setOfCluster` the set of every cluster.
 */
export function nestedVarianceComponents(
  values: Float64Array,
  cluster: Int32Array,
  setOfCluster: Int32Array,
  setCount: number,
): VarianceComponents {
  const clusterCount = setOfCluster.length;
  const size = new Float64Array(clusterCount);
  const sum = new Float64Array(clusterCount);
  for (let i = 0; i < values.length; i++) {
    const code = cluster[i] as number;
    if (code < 0 || Number.isNaN(values[i])) continue;
    size[code] = (size[code] as number) + 1;
    sum[code] = (sum[code] as number) + (values[i] as number);
  }
  let withinSum = 0;
  for (let i = 0; i < values.length; i++) {
    const code = cluster[i] as number;
    if (code < 0 || Number.isNaN(values[i])) continue;
    withinSum += ((values[i] as number) - (sum[code] as number) / (size[code] as number)) ** 2;
  }
  const setSize = new Float64Array(setCount);
  const setSum = new Float64Array(setCount);
  const setSquares = new Float64Array(setCount);
  let used = 0;
  let n = 0;
  for (let code = 0; code < clusterCount; code++) {
    const own = size[code] as number;
    if (own === 0) continue;
    const set = setOfCluster[code] as number;
    used++;
    n += own;
    setSize[set] = (setSize[set] as number) + own;
    setSum[set] = (setSum[set] as number) + (sum[code] as number);
    setSquares[set] = (setSquares[set] as number) + own * own;
  }
  let betweenSum = 0;
  for (let code = 0; code < clusterCount; code++) {
    const own = size[code] as number;
    if (own === 0) continue;
    const set = setOfCluster[code] as number;
    betweenSum += own * ((sum[code] as number) / own - (setSum[set] as number) / (setSize[set] as number)) ** 2;
  }
  let sets = 0;
  let squares = 0;
  for (let set = 0; set < setCount; set++) {
    if ((setSize[set] as number) === 0) continue;
    sets++;
    squares += (setSquares[set] as number) / (setSize[set] as number);
  }
  const degreesOfFreedom = used - sets;
  const within = n > used ? withinSum / (n - used) : Number.NaN;
  const perCluster = (n - squares) / degreesOfFreedom;
  const meanSquareBetween = betweenSum / degreesOfFreedom;
  const between = degreesOfFreedom > 0 ? Math.max(0, (meanSquareBetween - within) / perCluster) : Number.NaN;
  return { within, between, degreesOfFreedom, withinDegreesOfFreedom: n - used, meanSquareBetween, perCluster };
}

export interface Slope {
  readonly slope: number;
  readonly standardError: number;
  readonly intercept: number;
  /** Satterthwaite's, for the uncertainty of the components of variance. */
  readonly degreesOfFreedom: number;
}

/** What one cluster adds to the sums. */
interface ClusterSums {
  n: number;
  x: number;
  y: number;
}

/** Sums over the members: the clusters' own, and of squares and products over all. */
interface Sums {
  readonly clusters: readonly ClusterSums[];
  readonly n: number;
  readonly xx: number;
  readonly xy: number;
}

function sumUp(y: Float64Array, x: Float64Array, cluster: Int32Array, members: ArrayLike<number>): Sums {
  const clusters = new Map<number, ClusterSums>();
  let xx = 0;
  let xy = 0;
  for (let k = 0; k < members.length; k++) {
    const i = members[k] as number;
    const code = cluster[i] as number;
    let own = clusters.get(code);
    if (own === undefined) {
      own = { n: 0, x: 0, y: 0 };
      clusters.set(code, own);
    }
    const xi = x[i] as number;
    const yi = y[i] as number;
    own.n++;
    own.x += xi;
    own.y += yi;
    xx += xi * xi;
    xy += xi * yi;
  }
  return { clusters: [...clusters.values()], n: members.length, xx, xy };
}

/** Slope, intercept and variance of the slope for given components of variance. */
function solveFor(sums: Sums, within: number, between: number) {
  let one = sums.n;
  let { xx, xy } = sums;
  let sx = 0;
  let sy = 0;
  for (const own of sums.clusters) {
    const shrink = between / (within + own.n * between);
    one -= shrink * own.n * own.n;
    sx += own.x * (1 - shrink * own.n);
    sy += own.y * (1 - shrink * own.n);
    xx -= shrink * own.x * own.x;
    xy -= shrink * own.x * own.y;
  }
  const spread = xx - (sx * sx) / one;
  if (!(spread > 1e-9 * Math.max(1, sums.xx)))
    return { slope: Number.NaN, intercept: Number.NaN, variance: Number.NaN };
  const slope = (xy - (sx * sy) / one) / spread;
  return { slope, intercept: (sy - slope * sx) / one, variance: within / spread };
}

/**
 * Slope of y on x with a random level for every cluster: generalised least squares with known components of variance,
 * V = within I + between J inside a cluster. With g_c = between / (within + n_c between) the information is
 *
 *   (1 / within) sum_c [ sum z z' - g_c (sum z)(sum z)' ],  z = (1, x)
 *
 * Degrees of freedom: 2 v^2 / Var(v), v the slope's variance, Var(v) by the delta method from the mean squares' own
 * variances 2 MS^2 / df (Satterthwaite, Biometrics 1946;2:110-4, from memory). The mean squares are independent, the two
 * components are not: between = (MSB - within) / m0, so that Cov(within, between) = -Var(within) / m0. Source of the estimator: Searle, Casella and
 * McCulloch 1992, Variance Components (from memory). `members` lists the positions used. NaN where x does not vary.
 */
export function clusteredSlope(
  y: Float64Array,
  x: Float64Array,
  cluster: Int32Array,
  members: ArrayLike<number>,
  components: VarianceComponents,
): Slope {
  const sums = sumUp(y, x, cluster, members);
  const { within, between } = components;
  const { slope, intercept, variance } = solveFor(sums, within, between);
  return {
    slope,
    intercept,
    standardError: Math.sqrt(variance),
    degreesOfFreedom: satterthwaite(sums, variance, components),
  };
}

function satterthwaite(sums: Sums, variance: number, components: VarianceComponents): number {
  const { within, between, degreesOfFreedom, withinDegreesOfFreedom, meanSquareBetween, perCluster } = components;
  const ofWithin = (2 * within ** 2) / withinDegreesOfFreedom;
  if (!(degreesOfFreedom > 0)) return withinDegreesOfFreedom;
  const ofBetween = ((2 * meanSquareBetween ** 2) / degreesOfFreedom + ofWithin) / perCluster ** 2;
  const ofBoth = -ofWithin / perCluster;
  const step = 1e-4 * within;
  const byBetween = (solveFor(sums, within, between + step).variance - variance) / step;
  // The variance is homogeneous of degree one in the two components.
  const byWithin = (variance - between * byBetween) / within;
  const uncertainty = byWithin ** 2 * ofWithin + byBetween ** 2 * ofBetween + 2 * byWithin * byBetween * ofBoth;
  return (2 * variance ** 2) / uncertainty;
}
