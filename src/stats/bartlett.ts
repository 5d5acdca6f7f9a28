import { chiSquareUpper } from "./chi-square.js";
import { oneWay } from "./one-way.js";

/** Bartlett's test that groups have one variance. */
export interface Bartlett {
  readonly statistic: number;
  /** Groups with at least two values, minus 1. */
  readonly degreesOfFreedom: number;
  /** Upper chi-square tail. */
  readonly probability: number;
}

/**
 * Bartlett's test of equal variances. It takes the values for normal: heavy tails alone can make it reject.
 *
 *   K2 = (N ln s2 - sum v_g ln s2_g) / (1 + (sum 1/v_g - 1/N) / (3 (k - 1))), v_g = n_g - 1, N = sum v_g, s2 pooled
 *
 * Groups with fewer than two values are left out; NaN with fewer than two groups; infinite when a group does not vary.
 * Source: Bartlett, Proc R Soc A 1937;160:268-82.
 *
 * @param values NaN is skipped
 * @param codes group of each value, 0 to groupCount - 1; a negative code is skipped
 */
export function bartlett(values: ArrayLike<number>, codes: ArrayLike<number>, groupCount: number): Bartlett {
  const groups = oneWay(values, codes, groupCount).groups.filter((group) => group.n > 1);
  const freedom = groups.reduce((sum, group) => sum + group.n - 1, 0);
  const pooled = groups.reduce((sum, group) => sum + (group.n - 1) * group.sd ** 2, 0) / freedom;
  const logs = groups.reduce((sum, group) => sum + (group.n - 1) * Math.log(group.sd ** 2), 0);
  const reciprocals = groups.reduce((sum, group) => sum + 1 / (group.n - 1), 0);
  const degreesOfFreedom = groups.length - 1;
  const correction = 1 + (reciprocals - 1 / freedom) / (3 * degreesOfFreedom);
  const statistic = degreesOfFreedom > 0 ? (freedom * Math.log(pooled) - logs) / correction : Number.NaN;
  return { statistic, degreesOfFreedom, probability: chiSquareUpper(statistic, degreesOfFreedom) };
}
