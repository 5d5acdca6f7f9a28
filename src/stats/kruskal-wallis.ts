import { chiSquareUpper } from "./chi-square.js";

/** Kruskal-Wallis test that groups come from one distribution. */
export interface KruskalWallis {
  /** H, corrected for ties. */
  readonly statistic: number;
  /** Groups with a value, minus 1. */
  readonly degreesOfFreedom: number;
  /** Upper chi-square tail. */
  readonly probability: number;
}

/**
 * Kruskal-Wallis rank test, corrected for ties.
 *
 *   H = (12 / (n (n + 1)) sum R_g^2 / n_g - 3 (n + 1)) / (1 - sum (t^3 - t) / (n^3 - n))
 *
 * R_g is the rank sum of a group, t the size of a set of tied values. NaN with fewer than two groups or all values alike.
 * Source: Kruskal and Wallis, JASA 1952;47:583-621.
 *
 * @param values NaN is skipped
 * @param codes group of each value, 0 to groupCount - 1; a negative code is skipped
 */
export function kruskalWallis(values: ArrayLike<number>, codes: ArrayLike<number>, groupCount: number): KruskalWallis {
  const order = usableRows(values, codes).sort((a, b) => (values[a] as number) - (values[b] as number));
  const n = order.length;
  const sizes = new Float64Array(groupCount);
  const rankSums = new Float64Array(groupCount);
  let ties = 0;
  for (let from = 0; from < n; ) {
    const value = values[order[from] as number];
    let to = from;
    while (to < n && values[order[to] as number] === value) to++;
    const rank = (from + 1 + to) / 2;
    for (let i = from; i < to; i++) {
      const group = codes[order[i] as number] as number;
      sizes[group] = (sizes[group] as number) + 1;
      rankSums[group] = (rankSums[group] as number) + rank;
    }
    const size = to - from;
    ties += size * size * size - size;
    from = to;
  }
  let sum = 0;
  let groups = 0;
  for (let g = 0; g < groupCount; g++) {
    if ((sizes[g] as number) === 0) continue;
    groups++;
    sum += (rankSums[g] as number) ** 2 / (sizes[g] as number);
  }
  const correction = 1 - ties / (n * n * n - n);
  const usable = groups > 1 && correction > 0;
  const statistic = usable ? ((12 / (n * (n + 1))) * sum - 3 * (n + 1)) / correction : Number.NaN;
  return { statistic, degreesOfFreedom: groups - 1, probability: chiSquareUpper(statistic, groups - 1) };
}

function usableRows(values: ArrayLike<number>, codes: ArrayLike<number>): Uint32Array {
  const rows = new Uint32Array(values.length);
  let n = 0;
  for (let i = 0; i < values.length; i++) {
    if ((codes[i] as number) >= 0 && !Number.isNaN(values[i] as number)) rows[n++] = i;
  }
  return rows.subarray(0, n);
}
