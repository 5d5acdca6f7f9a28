/**
 * A number in whole hundredths, halves away from zero. Every cut-off and fixed limit is compared in hundredths, so that
 * what decides is what a reader sees with two decimals: -1.996 is -2.00 and not below -2, -2.006 is -2.01 and is.
 */
export function hundredths(value: number): number {
  return Math.sign(value) * Math.round(Math.abs(value) * 100);
}
