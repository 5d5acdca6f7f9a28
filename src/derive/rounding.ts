/**
 * Sets a mark of 1 where sign x value, in whole hundredths with halves away from zero, is below a limit in whole hundredths; leaves
 * the other marks as they are. Every cut-off and fixed limit is compared in hundredths, so that what decides is what a reader sees
 * with two decimals: -1.996 is -2.00 and not below -2, -2.006 is -2.01 and is.
 *
 * No value is rounded, which would take three times as long: rounding halves away from zero takes v below the limit
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
