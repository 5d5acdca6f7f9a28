/** The values that are not NaN, in ascending order, as a new array. A column that is in order already is not sorted again. */
export function sortedValues(values: ArrayLike<number>): Float64Array {
  const kept = new Float64Array(values.length);
  let n = 0;
  let inOrder = true;
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    if (Number.isNaN(value)) continue;
    if (n > 0 && value < (kept[n - 1] as number)) inOrder = false;
    kept[n++] = value;
  }
  const result = kept.subarray(0, n);
  return inOrder ? result : result.sort();
}

/**
 * Quantile of a sample by linear interpolation between order statistics: with h = (n - 1) p + 1, the value at rank h.
 * This is definition 7 of Hyndman and Fan, Am Stat 1996;50:361-5 (the default of R). Skips NaN; NaN for no values or for
 * p outside 0 to 1. For several quantiles of one column, sort it once with `sortedValues`.
 */
export function quantile(sortedOrNot: ArrayLike<number>, p: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  const sorted = sortedValues(sortedOrNot);
  const n = sorted.length;
  if (n === 0) return Number.NaN;
  const position = (n - 1) * p;
  const below = Math.floor(position);
  const low = sorted[below] as number;
  const high = sorted[Math.min(below + 1, n - 1)] as number;
  return low + (position - below) * (high - low);
}
