import { fUpper } from "./f.js";

/** One group of values. */
export interface GroupSummary {
  readonly n: number;
  /** NaN when empty. */
  readonly mean: number;
  /** Divides by n - 1; NaN for fewer than two values. */
  readonly sd: number;
}

/** One-way analysis of variance. Fields are NaN where there are fewer than two groups or no group has two values. */
export interface OneWay {
  /** Mean square between groups. */
  readonly between: number;
  /** Mean square within groups. */
  readonly within: number;
  /** between / within. */
  readonly f: number;
  readonly dfBetween: number;
  readonly dfWithin: number;
  /** Upper tail of F. */
  readonly probability: number;
  /** Share of the variance that lies between groups; can be negative (groups more alike than chance). */
  readonly intraclassCorrelation: number;
  /** In the order of the codes. */
  readonly groups: readonly GroupSummary[];
}

/**
 * One-way analysis of variance and the ANOVA estimate of the intraclass correlation.
 *
 *   rho = (MSB - MSW) / (MSB + (m0 - 1) MSW), m0 = (n - sum n_i^2 / n) / (k - 1)
 *
 * For groups of equal size rho equals the restricted-maximum-likelihood value (when not negative).
 * Source: Snedecor and Cochran, Statistical Methods, ch. 12-13; Donner, Int Stat Rev 1986;54:67-82 (rho).
 *
 * @param values NaN is skipped
 * @param codes group of each value, 0 to groupCount - 1; a negative code is skipped
 */
export function oneWay(values: ArrayLike<number>, codes: ArrayLike<number>, groupCount: number): OneWay {
  const groups = summarize(values, codes, groupCount);
  let n = 0;
  let filled = 0;
  let total = 0;
  let sumOfSquaredSizes = 0;
  let within = 0;
  for (const group of groups) {
    if (group.n === 0) continue;
    n += group.n;
    filled++;
    total += group.n * group.mean;
    sumOfSquaredSizes += group.n * group.n;
    if (group.n > 1) within += (group.n - 1) * group.sd * group.sd;
  }
  const grandMean = total / n;
  let between = 0;
  for (const group of groups) if (group.n > 0) between += group.n * (group.mean - grandMean) ** 2;
  const dfBetween = filled - 1;
  const dfWithin = n - filled;
  const meanBetween = dfBetween > 0 ? between / dfBetween : Number.NaN;
  const meanWithin = dfWithin > 0 ? within / dfWithin : Number.NaN;
  const f = meanBetween / meanWithin;
  const size = (n - sumOfSquaredSizes / n) / dfBetween;
  return {
    between: meanBetween,
    within: meanWithin,
    f,
    dfBetween,
    dfWithin,
    probability: fUpper(f, dfBetween, dfWithin),
    intraclassCorrelation: (meanBetween - meanWithin) / (meanBetween + (size - 1) * meanWithin),
    groups,
  };
}

/** Size, mean and standard deviation of every group, in two passes. */
function summarize(values: ArrayLike<number>, codes: ArrayLike<number>, groupCount: number): GroupSummary[] {
  const sizes = new Float64Array(groupCount);
  const means = new Float64Array(groupCount);
  const squares = new Float64Array(groupCount);
  for (let i = 0; i < values.length; i++) {
    const group = codes[i] as number;
    const value = values[i] as number;
    if (group < 0 || Number.isNaN(value)) continue;
    sizes[group] = (sizes[group] as number) + 1;
    means[group] = (means[group] as number) + value;
  }
  for (let g = 0; g < groupCount; g++) means[g] = (means[g] as number) / (sizes[g] as number);
  for (let i = 0; i < values.length; i++) {
    const group = codes[i] as number;
    const value = values[i] as number;
    if (group < 0 || Number.isNaN(value)) continue;
    squares[group] = (squares[group] as number) + (value - (means[group] as number)) ** 2;
  }
  return Array.from({ length: groupCount }, (_, g) => {
    const n = sizes[g] as number;
    return { n, mean: means[g] as number, sd: n > 1 ? Math.sqrt((squares[g] as number) / (n - 1)) : Number.NaN };
  });
}
