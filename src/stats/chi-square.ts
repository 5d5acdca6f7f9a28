import incompleteGamma from "@stdlib/math-base-special-gammainc";
import quantile from "@stdlib/stats-base-dists-chisquare-quantile";

/**
 * Upper tail of the chi-square distribution: P(X >= x) = Q(df/2, x/2), the regularized upper incomplete gamma function,
 * so that small probabilities keep their digits.
 *
 * @param x value, any number; at or below 0 the tail is 1
 * @param df degrees of freedom, above 0, need not be whole; NaN otherwise
 */
export function chiSquareUpper(x: number, df: number): number {
  if (!(df > 0) || Number.isNaN(x)) return Number.NaN;
  if (x <= 0) return 1;
  if (x === Number.POSITIVE_INFINITY) return 0;
  return incompleteGamma(x / 2, df / 2, true, true);
}

/** Lower tail of the chi-square distribution: P(X <= x) = P(df/2, x/2). Same arguments as the upper tail. */
export function chiSquareLower(x: number, df: number): number {
  if (!(df > 0) || Number.isNaN(x)) return Number.NaN;
  if (x <= 0) return 0;
  if (x === Number.POSITIVE_INFINITY) return 1;
  return incompleteGamma(x / 2, df / 2, true, false);
}

/** The x with P(X <= x) = p, for 0 <= p <= 1 and df above 0; NaN otherwise. */
export function chiSquareQuantile(p: number, df: number): number {
  if (!(df > 0)) return Number.NaN;
  return quantile(p, df);
}
