import { momentsOf } from "./moments.js";

/** How far two readings of the same thing lie apart. */
export interface TechnicalError {
  /** Pairs with both readings. */
  readonly n: number;
  /** sqrt(sum d^2 / 2n), in the unit of the readings. */
  readonly technicalError: number;
  /** 100 technicalError / mean of all readings. */
  readonly relative: number;
  /** First minus second, on average. */
  readonly meanDifference: number;
  /** Standard deviation (n - 1) of the differences. */
  readonly standardDeviationOfDifferences: number;
  /** 1 - technicalError^2 / variance of all readings; near 1 whenever the things measured differ much. */
  readonly reliability: number;
}

/**
 * Technical error of measurement from repeat pairs, skipping a pair where either reading is NaN.
 * All NaN without pairs; reliability needs readings that vary.
 *
 * Source: Ulijaszek and Kerr, Br J Nutr 1999;82:165-77; relative form and reliability from the same.
 *
 * @throws RangeError when the lengths differ
 */
export function technicalError(first: ArrayLike<number>, second: ArrayLike<number>): TechnicalError {
  if (first.length !== second.length) throw new RangeError("As many second readings as first ones are needed.");
  const differences: number[] = [];
  const readings: number[] = [];
  for (let i = 0; i < first.length; i++) {
    const one = first[i] as number;
    const two = second[i] as number;
    if (Number.isNaN(one) || Number.isNaN(two)) continue;
    differences.push(one - two);
    readings.push(one, two);
  }
  const n = differences.length;
  const squares = differences.reduce((sum, difference) => sum + difference * difference, 0);
  const error = n > 0 ? Math.sqrt(squares / (2 * n)) : Number.NaN;
  const all = momentsOf(readings);
  const difference = momentsOf(differences);
  return {
    n,
    technicalError: error,
    relative: (100 * error) / all.mean,
    meanDifference: difference.mean,
    standardDeviationOfDifferences: difference.standardDeviation,
    reliability: all.standardDeviation > 0 ? 1 - error ** 2 / all.standardDeviation ** 2 : Number.NaN,
  };
}

/**
 * Technical error of measurement when each of N things was read K times (by one observer or by K observers):
 * sqrt(sum_i (sum_k x^2 - (sum_k x)^2 / K) / (N (K - 1))). Things with a missing reading are left out; NaN without any.
 * Source: Ulijaszek and Kerr, Br J Nutr 1999;82:165-77 (formula from memory).
 *
 * @param readings one row a thing, K readings each
 */
export function technicalErrorOfRepeats(readings: readonly ArrayLike<number>[]): number {
  let squares = 0;
  let freedom = 0;
  for (const row of readings) {
    const moments = momentsOf(row);
    if (moments.n !== row.length || row.length < 2) continue;
    squares += moments.standardDeviation ** 2 * (row.length - 1);
    freedom += row.length - 1;
  }
  return freedom > 0 ? Math.sqrt(squares / freedom) : Number.NaN;
}
