import cumulative from "@stdlib/stats-base-dists-f-cdf";

/**
 * Upper tail of the F distribution: P(F >= x), computed by the mirror identity
 * P(F(df1, df2) >= x) = P(F(df2, df1) <= 1/x), so that small values keep their digits.
 *
 * @param df1 numerator degrees of freedom, above 0, need not be whole
 * @param df2 denominator degrees of freedom, above 0, need not be whole
 */
export function fUpper(x: number, df1: number, df2: number): number {
  if (!(df1 > 0) || !(df2 > 0) || Number.isNaN(x)) return Number.NaN;
  if (x <= 0) return 1;
  if (x === Number.POSITIVE_INFINITY) return 0;
  return cumulative(1 / x, df2, df1);
}
