/** Size and standard deviation of one group and of all the others together. */
export interface GroupAndOthers {
  readonly n: number;
  /** Divides by n - 1; NaN for fewer than two values. */
  readonly standardDeviation: number;
  readonly othersN: number;
  readonly othersStandardDeviation: number;
}

/**
 * Standard deviation of every group and of the values of all other groups, in two passes: sums of powers about the overall mean,
 * of the group and of the whole less the group. NaN and negative codes are skipped.
 */
export function againstOthers(values: Float64Array, codes: Int32Array, groupCount: number): GroupAndOthers[] {
  let n = 0;
  let total = 0;
  for (let i = 0; i < values.length; i++) {
    if ((codes[i] as number) < 0 || Number.isNaN(values[i])) continue;
    n++;
    total += values[i] as number;
  }
  const mean = total / n;
  const size = new Float64Array(groupCount);
  const sum = new Float64Array(groupCount);
  const square = new Float64Array(groupCount);
  for (let i = 0; i < values.length; i++) {
    const code = codes[i] as number;
    if (code < 0 || Number.isNaN(values[i])) continue;
    const away = (values[i] as number) - mean;
    size[code] = (size[code] as number) + 1;
    sum[code] = (sum[code] as number) + away;
    square[code] = (square[code] as number) + away * away;
  }
  const squares = square.reduce((so, one) => so + one, 0);
  const deviation = (count: number, first: number, second: number) =>
    count > 1 ? Math.sqrt(Math.max(0, second - (first * first) / count) / (count - 1)) : Number.NaN;
  // The deviations of all values from their mean add up to 0, so those of the others add up to minus the group's.
  return Array.from({ length: groupCount }, (_, code) => {
    const own = size[code] as number;
    return {
      n: own,
      standardDeviation: deviation(own, sum[code] as number, square[code] as number),
      othersN: n - own,
      othersStandardDeviation: deviation(n - own, -(sum[code] as number), squares - (square[code] as number)),
    };
  });
}
