import { quantile } from "./quantile.js";
import { randomStream } from "./random.js";

/** Percentile limits of skewness and excess kurtosis. NaN where there are fewer than two clusters. */
export interface ShapeLimits {
  readonly skewness: { readonly low: number; readonly high: number };
  readonly excessKurtosis: { readonly low: number; readonly high: number };
}

/**
 * Cluster bootstrap of skewness (G1) and excess kurtosis (G2): whole clusters are drawn with replacement, as many as there
 * are, and the 2.5th and 97.5th percentiles over the repeats are the limits. Each cluster is first reduced to its sums of
 * powers about the overall mean, so that a repeat costs one pass over clusters. Source: Davison and Hinkley 1997, Bootstrap
 * Methods and their Application, ch. 2-3 (from memory). The same seed gives the same limits.
 *
 * @param values NaN is skipped
 * @param clusters cluster of every value; -1 is skipped
 */
export function bootstrapShape(
  values: Float64Array,
  clusters: Int32Array,
  clusterCount: number,
  repeats: number,
  seed: number,
): ShapeLimits {
  const sums = powerSums(values, clusters, clusterCount);
  const drawn = sums.length / powers;
  const none = { low: Number.NaN, high: Number.NaN };
  if (drawn < 2) return { skewness: none, excessKurtosis: none };
  const stream = randomStream(seed);
  const skewness = new Float64Array(repeats);
  const kurtosis = new Float64Array(repeats);
  for (let repeat = 0; repeat < repeats; repeat++) {
    let n = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    let s4 = 0;
    for (let draw = 0; draw < drawn; draw++) {
      const at = stream.below(drawn) * powers;
      n += sums[at] as number;
      s1 += sums[at + 1] as number;
      s2 += sums[at + 2] as number;
      s3 += sums[at + 3] as number;
      s4 += sums[at + 4] as number;
    }
    const shape = shapeOf(n, s1, s2, s3, s4);
    skewness[repeat] = shape.skewness;
    kurtosis[repeat] = shape.excessKurtosis;
  }
  const limits = (found: Float64Array) => ({ low: quantile(found, 0.025), high: quantile(found, 0.975) });
  return { skewness: limits(skewness), excessKurtosis: limits(kurtosis) };
}

/** Powers 0 to 4. */
const powers = 5;

/** Sums of powers of each cluster's values about the overall mean, one cluster after the other; clusters without values are left out. */
function powerSums(values: Float64Array, clusters: Int32Array, clusterCount: number): Float64Array {
  let n = 0;
  let sum = 0;
  for (let i = 0; i < values.length; i++) {
    if (Number.isNaN(values[i]) || (clusters[i] as number) < 0) continue;
    n++;
    sum += values[i] as number;
  }
  const centre = sum / n;
  const sums = new Float64Array(clusterCount * powers);
  for (let i = 0; i < values.length; i++) {
    const cluster = clusters[i] as number;
    if (cluster < 0 || cluster >= clusterCount || Number.isNaN(values[i])) continue;
    let power = 1;
    for (let k = 0; k < powers; k++) {
      sums[cluster * powers + k] = (sums[cluster * powers + k] as number) + power;
      power *= (values[i] as number) - centre;
    }
  }
  let kept = 0;
  for (let cluster = 0; cluster < clusterCount; cluster++) {
    if (sums[cluster * powers] === 0) continue;
    sums.copyWithin(kept * powers, cluster * powers, (cluster + 1) * powers);
    kept++;
  }
  return sums.subarray(0, kept * powers);
}

/** Sample-adjusted skewness and excess kurtosis (G1, G2) from sums of powers. */
function shapeOf(
  n: number,
  s1: number,
  s2: number,
  s3: number,
  s4: number,
): { skewness: number; excessKurtosis: number } {
  const m = s1 / n;
  const m2 = s2 / n - m * m;
  const m3 = s3 / n - 3 * m * (s2 / n) + 2 * m ** 3;
  const m4 = s4 / n - 4 * m * (s3 / n) + 6 * m * m * (s2 / n) - 3 * m ** 4;
  const g1 = m3 / m2 ** 1.5;
  const g2 = m4 / (m2 * m2) - 3;
  return {
    skewness: (g1 * Math.sqrt(n * (n - 1))) / (n - 2),
    excessKurtosis: ((n - 1) / ((n - 2) * (n - 3))) * ((n + 1) * g2 + 6),
  };
}
