import { oneWay } from "./one-way.js";
import { quantile } from "./quantile.js";

/** Brown-Forsythe test that groups spread alike. */
export interface BrownForsythe {
  readonly f: number;
  /** Groups with a value, minus 1. */
  readonly df1: number;
  /** Values minus groups with a value. */
  readonly df2: number;
  /** Upper tail of F. */
  readonly probability: number;
}

/**
 * Brown-Forsythe test of equal spread: one-way analysis of variance of |x - median of its group|. It asks less of
 * normality than Bartlett's test does.
 *
 * Source: Brown and Forsythe, JASA 1974;69:364-7.
 *
 * @param values NaN is skipped
 * @param codes group of each value, 0 to groupCount - 1; a negative code is skipped
 */
export function brownForsythe(values: ArrayLike<number>, codes: ArrayLike<number>, groupCount: number): BrownForsythe {
  const medians = groupValues(values, codes, groupCount).map((group) => quantile(group, 0.5));
  const distances = new Float64Array(values.length);
  for (let i = 0; i < values.length; i++) {
    const group = codes[i] as number;
    distances[i] = group < 0 ? Number.NaN : Math.abs((values[i] as number) - (medians[group] as number));
  }
  const result = oneWay(distances, codes, groupCount);
  return { f: result.f, df1: result.dfBetween, df2: result.dfWithin, probability: result.probability };
}

/** The values of every group that are not NaN. */
function groupValues(values: ArrayLike<number>, codes: ArrayLike<number>, groupCount: number): number[][] {
  const groups: number[][] = Array.from({ length: groupCount }, () => []);
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    const group = codes[i] as number;
    if (group >= 0 && !Number.isNaN(value)) groups[group]?.push(value);
  }
  return groups;
}
