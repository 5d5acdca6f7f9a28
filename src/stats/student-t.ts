import cumulative from "@stdlib/stats-base-dists-t-cdf";
import quantile from "@stdlib/stats-base-dists-t-quantile";

/**
 * Two-sided probability of Student's t: P(|T| >= |t|), computed as 2 P(T <= -|t|) so that small values keep their digits.
 *
 * @param df degrees of freedom, above 0, need not be whole; NaN otherwise
 */
export function studentTwoSided(t: number, df: number): number {
  if (!(df > 0)) return Number.NaN;
  return 2 * cumulative(-Math.abs(t), df);
}

/** Quantiles already computed: one survey's intervals rest on few degrees of freedom, asked for hundreds of times. */
const known = new Map<string, number>();
const mostKnown = 1000;

/** The t with P(T <= t) = p, for 0 < p < 1 and df above 0; NaN otherwise. */
export function studentQuantile(p: number, df: number): number {
  if (!(df > 0)) return Number.NaN;
  const key = `${p} ${df}`;
  const found = known.get(key) ?? quantile(p, df);
  if (known.size < mostKnown) known.set(key, found);
  return found;
}
