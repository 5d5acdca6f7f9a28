import cumulative from "@stdlib/stats-base-dists-beta-cdf";
import quantile from "@stdlib/stats-base-dists-beta-quantile";

/** The x with P(B <= x) = p for a beta distribution with shapes a and b, both above 0; NaN otherwise. */
export function betaQuantile(p: number, a: number, b: number): number {
  if (!(a > 0) || !(b > 0)) return Number.NaN;
  return quantile(p, a, b);
}

/** P(B <= x) for a beta distribution with shapes a and b, both above 0; NaN otherwise. */
export function betaCumulative(x: number, a: number, b: number): number {
  if (!(a > 0) || !(b > 0)) return Number.NaN;
  return cumulative(x, a, b);
}
