import { chiSquareUpper } from "./chi-square.js";

/** Pearson's chi-square against given shares. */
export interface GoodnessOfFit {
  /** Sum of the observed counts. */
  readonly n: number;
  readonly chiSquare: number;
  /** Categories with an expected share above 0, minus 1. */
  readonly degreesOfFreedom: number;
  /** Upper tail. */
  readonly probability: number;
}

/**
 * Pearson's goodness of fit: X2 = sum (observed - expected)^2 / expected, expected = n share / sum of shares.
 *
 * A category with share 0 is left out when its count is 0; when something was observed where nothing can be, X2 is
 * infinite and the probability 0. NaN where n is 0 or fewer than two categories are expected. The approximation wants
 * about 5 expected in each category (Cochran 1954).
 *
 * @param observed counts
 * @param expectedShares as many shares, not negative; they need not add up to 1
 * @throws RangeError when the lengths differ or a share is negative
 */
export function goodnessOfFit(observed: ArrayLike<number>, expectedShares: ArrayLike<number>): GoodnessOfFit {
  if (observed.length !== expectedShares.length) throw new RangeError("As many shares as counts are needed.");
  let n = 0;
  let total = 0;
  let categories = 0;
  for (let i = 0; i < observed.length; i++) {
    const share = expectedShares[i] as number;
    if (!(share >= 0)) throw new RangeError("A share must be a number that is not negative.");
    n += observed[i] as number;
    total += share;
    if (share > 0) categories++;
  }
  const degreesOfFreedom = categories - 1;
  if (!(n > 0) || degreesOfFreedom < 1) {
    return { n, chiSquare: Number.NaN, degreesOfFreedom, probability: Number.NaN };
  }
  let chiSquare = 0;
  for (let i = 0; i < observed.length; i++) {
    const expected = (n * (expectedShares[i] as number)) / total;
    const difference = (observed[i] as number) - expected;
    if (difference !== 0) chiSquare += (difference * difference) / expected;
  }
  return { n, chiSquare, degreesOfFreedom, probability: chiSquareUpper(chiSquare, degreesOfFreedom) };
}
