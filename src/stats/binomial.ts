import probabilityMass from "@stdlib/stats-base-dists-binomial-pmf";
import { betaCumulative, betaQuantile } from "./beta.js";
import { confidenceLevel } from "./confidence.js";
import { normalQuantile } from "./normal.js";

/** A confidence interval. */
export interface Interval {
  readonly low: number;
  readonly high: number;
  /** Confidence level, such as 0.95. */
  readonly level: number;
}

/**
 * Exact two-sided binomial test: the sum of the probabilities of all outcomes that are no more likely than the one seen,
 * where 'no more likely' allows a relative difference of 1e-7, as R's binom.test does. NaN for n = 0 or impossible input.
 *
 * @param x cases, 0 to n
 * @param n trials
 * @param p0 share expected, 0 to 1
 */
export function binomialTest(x: number, n: number, p0: number): number {
  if (!(n > 0) || !(x >= 0 && x <= n) || !(p0 >= 0 && p0 <= 1)) return Number.NaN;
  if (p0 === 0) return x === 0 ? 1 : 0;
  if (p0 === 1) return x === n ? 1 : 0;
  const limit = probabilityMass(x, n, p0) * (1 + 1e-7);
  const expected = n * p0;
  if (x === expected) return 1;
  if (x < expected) {
    const from = firstWhere(Math.ceil(expected), n + 1, (i) => probabilityMass(i, n, p0) <= limit);
    return Math.min(1, atMost(x, n, p0) + atLeast(from, n, p0));
  }
  const past = firstWhere(0, Math.floor(expected) + 1, (i) => probabilityMass(i, n, p0) > limit);
  return Math.min(1, atMost(past - 1, n, p0) + atLeast(x, n, p0));
}

/** The first whole number from `low` on for which the test holds (false, then true), or `high` when none does. */
function firstWhere(low: number, high: number, holds: (i: number) => boolean): number {
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** P(X <= x) = I_(1-p)(n - x, x + 1). */
function atMost(x: number, n: number, p: number): number {
  if (x < 0) return 0;
  return x >= n ? 1 : betaCumulative(1 - p, n - x, x + 1);
}

/** P(X >= x) = I_p(x, n - x + 1). */
function atLeast(x: number, n: number, p: number): number {
  if (x <= 0) return 1;
  return x > n ? 0 : betaCumulative(p, x, n - x + 1);
}

/**
 * Clopper-Pearson exact interval for a share: the alpha/2 quantile of Beta(x, n - x + 1) and the 1 - alpha/2 quantile of
 * Beta(x + 1, n - x). Neither x nor n needs to be whole. NaN for n = 0.
 *
 * Source: Clopper and Pearson, Biometrika 1934;26:404-13.
 */
export function clopperPearson(x: number, n: number, level = confidenceLevel): Interval {
  if (!(n > 0) || !(x >= 0 && x <= n)) return { low: Number.NaN, high: Number.NaN, level };
  const alpha = 1 - level;
  return {
    low: x === 0 ? 0 : betaQuantile(alpha / 2, x, n - x + 1),
    high: x === n ? 1 : betaQuantile(1 - alpha / 2, x + 1, n - x),
    level,
  };
}

/**
 * Wilson's score interval for a share, without continuity correction:
 * (p + z^2/2n +- z sqrt(p (1 - p)/n + z^2/4n^2)) / (1 + z^2/n). NaN for n = 0.
 *
 * Source: Wilson, JASA 1927;22:209-12; method 3 of Newcombe, Stat Med 1998;17:857-72.
 */
export function wilson(x: number, n: number, level = confidenceLevel): Interval {
  if (!(n > 0) || !(x >= 0 && x <= n)) return { low: Number.NaN, high: Number.NaN, level };
  const z = normalQuantile(1 - (1 - level) / 2);
  const share = x / n;
  const scale = 1 + (z * z) / n;
  const centre = (share + (z * z) / (2 * n)) / scale;
  const half = (z * Math.sqrt((share * (1 - share)) / n + (z * z) / (4 * n * n))) / scale;
  return { low: x === 0 ? 0 : centre - half, high: x === n ? 1 : centre + half, level };
}
