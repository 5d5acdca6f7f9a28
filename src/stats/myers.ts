/** Myers' blended index of digit preference in ages. */
export interface Myers {
  /** Ages used, from lowest to lowest + 10 (terms + 1) - 1. */
  readonly n: number;
  /** 0 (no preference) to 90 (one digit only); half the sum of absolute differences. */
  readonly index: number;
  /** Blended share of each last digit 0 to 9. */
  readonly shares: number[];
}

/**
 * Myers' blended index. For each last digit d, at position j (0 to 9) counted from the last digit of `lowest`:
 *
 *   S1_d = ages ending in d within lowest .. lowest + 10 terms - 1
 *   S2_d = ages ending in d within lowest + 10 .. lowest + 10 terms + 9
 *   B_d = (j + 1) S1_d + (9 - j) S2_d,   index = 0.5 sum |100 B_d / sum B - 10|
 *
 * Both sums have the same number of terms, so that a flat or straight-line age pyramid gives exactly 0; the shortened
 * form of some teaching texts does not. Made for ages of adults in single years, not for months of age of children.
 * Source: Myers, Trans Actuar Soc Am 1940;41:395-415; Shryock and Siegel 1976.
 *
 * @param ages one age a person, in completed units; NaN is skipped, fractions are cut off
 * @param lowest lowest age used, such as 10
 * @param terms decades in each sum, such as 7
 */
export function myersBlended(ages: ArrayLike<number>, lowest: number, terms: number): Myers {
  const first = new Float64Array(10);
  const second = new Float64Array(10);
  let n = 0;
  for (let i = 0; i < ages.length; i++) {
    const steps = Math.floor(ages[i] as number) - lowest;
    if (!(steps >= 0 && steps < 10 * (terms + 1))) continue;
    const position = steps % 10;
    n++;
    if (steps < 10 * terms) first[position] = (first[position] as number) + 1;
    if (steps >= 10) second[position] = (second[position] as number) + 1;
  }
  const blended = Array.from(first, (sum, j) => (j + 1) * sum + (9 - j) * (second[j] as number));
  const total = blended.reduce((sum, value) => sum + value, 0);
  const shares = new Array<number>(10).fill(Number.NaN);
  blended.forEach((value, j) => {
    shares[(lowest + j) % 10] = value / total;
  });
  const index = 50 * shares.reduce((sum, share) => sum + Math.abs(share - 0.1), 0);
  return { n, index, shares };
}
