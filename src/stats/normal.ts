import cumulative from "@stdlib/stats-base-dists-normal-cdf";
import quantile from "@stdlib/stats-base-dists-normal-quantile";

/** Standard normal distribution function P(Z <= z). */
export function normalCumulative(z: number): number {
  return cumulative(z, 0, 1);
}

/** Upper tail P(Z > z), without the loss of 1 - P(Z <= z). */
export function normalUpper(z: number): number {
  return cumulative(-z, 0, 1);
}

/** Standard normal quantile: the z with P(Z <= z) = p, for 0 < p < 1. */
export function normalQuantile(p: number): number {
  return quantile(p, 0, 1);
}

/** Density of the standard normal distribution at z. */
export function normalDensity(z: number): number {
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
}
