import { chiSquareLower } from "./chi-square.js";

/**
 * Upper tail of the Poisson distribution: P(X >= count) = P(chi-square with 2 count degrees of freedom <= 2 mean).
 * 1 for a count at or below 0; for a mean of 0 it is 0 for any count above 0. NaN for a negative or missing mean.
 *
 * Source: a standard identity (Johnson, Kotz and Kemp, Univariate Discrete Distributions, ch. 4).
 */
export function poissonUpper(count: number, mean: number): number {
  if (!(mean >= 0)) return Number.NaN;
  if (count <= 0) return 1;
  return mean === 0 ? 0 : chiSquareLower(2 * mean, 2 * count);
}

/** The smallest whole number k with P(X <= k) >= p, for 0 <= p < 1. NaN for a negative or missing mean. */
export function poissonQuantile(p: number, mean: number): number {
  if (!(mean >= 0) || !(p >= 0 && p < 1)) return Number.NaN;
  let low = 0;
  let high = Math.ceil(mean + 1);
  while (1 - poissonUpper(high + 1, mean) < p) high *= 2;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (1 - poissonUpper(middle + 1, mean) >= p) high = middle;
    else low = middle + 1;
  }
  return low;
}
