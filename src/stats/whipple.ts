/** Whipple's index of preference for ages ending in 0 or 5. */
export interface Whipple {
  /** Ages within the range. */
  readonly n: number;
  /** 100 without preference, 500 when all ages end in 0 or 5, 0 when none does. */
  readonly index: number;
}

/**
 * Whipple's index: 100 * 5 * (ages ending in 0 or 5) / (all ages), within a range that holds each last digit equally
 * often; usually 23 to 62. NaN when no age is in the range.
 * Source: Shryock and Siegel 1976; United Nations, Demographic Yearbook.
 *
 * @param ages one age a person in completed years; NaN is skipped, fractions are cut off
 */
export function whipple(ages: ArrayLike<number>, lowest = 23, highest = 62): Whipple {
  let n = 0;
  let preferred = 0;
  for (let i = 0; i < ages.length; i++) {
    const age = Math.floor(ages[i] as number);
    if (!(age >= lowest && age <= highest)) continue;
    n++;
    if (age % 5 === 0) preferred++;
  }
  return { n, index: (500 * preferred) / n };
}
