import { betaQuantile } from "./beta.js";
import type { Interval } from "./binomial.js";
import { confidenceLevel } from "./confidence.js";
import { fUpper } from "./f.js";
import { oneWay } from "./one-way.js";

/** How alike members of one group are, with its exact interval under normality. */
export interface Intraclass {
  readonly n: number;
  readonly groups: number;
  /** Mean size of a group, n0 = (n - sum n_i^2 / n) / (k - 1). */
  readonly size: number;
  readonly estimate: number;
  readonly interval: Interval;
  /** 1 + (size - 1) estimate. */
  readonly designEffect: number;
  readonly designEffectInterval: Interval;
  /** Between over within mean square; 1 under chance alone. */
  readonly f: number;
  /** P(F as low or lower) when groups differ by chance alone: small means groups more alike than chance. */
  readonly probabilityEven: number;
  /** P(F as high or higher) when groups differ by chance alone. */
  readonly probability: number;
  /** Estimates that chance alone keeps to 95 times in 100. */
  readonly chanceLow: number;
  readonly chanceHigh: number;
}

/**
 * Analysis-of-variance estimate of the intraclass correlation with Searle's interval:
 *
 *   low = (F / F_(1-a/2) - 1) / (F / F_(1-a/2) + n0 - 1), high the same with F_(a/2)
 *
 * Exact for normal values in groups of equal size, near it otherwise. Source: Searle 1971, Linear Models, ch. 9; Donner,
 * Int Stat Rev 1986;54:67-82 (both from memory). NaN where there are fewer than two groups or no group has two values.
 */
export function intraclass(
  values: ArrayLike<number>,
  codes: ArrayLike<number>,
  groupCount: number,
  level = confidenceLevel,
): Intraclass {
  const table = oneWay(values, codes, groupCount);
  let n = 0;
  let squares = 0;
  for (const group of table.groups) {
    n += group.n;
    squares += group.n ** 2;
  }
  const { f, dfBetween, dfWithin } = table;
  const size = (n - squares / n) / dfBetween;
  const correlation = (ratio: number) => (ratio - 1) / (ratio + size - 1);
  const tail = (1 - level) / 2;
  const lower = fQuantile(tail, dfBetween, dfWithin);
  const upper = fQuantile(1 - tail, dfBetween, dfWithin);
  const interval = { low: correlation(f / upper), high: correlation(f / lower), level };
  const effect = (rho: number) => 1 + (size - 1) * rho;
  return {
    n,
    groups: dfBetween + 1,
    size,
    estimate: table.intraclassCorrelation,
    interval,
    designEffect: effect(table.intraclassCorrelation),
    designEffectInterval: { low: effect(interval.low), high: effect(interval.high), level },
    f,
    // P(F <= f) with (d1, d2) is P(1/F >= 1/f) with (d2, d1).
    probabilityEven: fUpper(1 / f, dfWithin, dfBetween),
    probability: table.probability,
    chanceLow: correlation(lower),
    chanceHigh: correlation(upper),
  };
}

/** Quantile of F through the beta distribution: F = d2 x / (d1 (1 - x)), x beta with d1/2 and d2/2. */
function fQuantile(p: number, df1: number, df2: number): number {
  if (!(df1 > 0) || !(df2 > 0)) return Number.NaN;
  const x = betaQuantile(p, df1 / 2, df2 / 2);
  return (df2 * x) / (df1 * (1 - x));
}
