import { chiSquareLower, chiSquareUpper } from "./chi-square.js";
import { momentsOf } from "./moments.js";

/** How counts spread over places of like size. */
export interface VarianceToMean {
  readonly n: number;
  /** Variance divided by mean: 1 under chance (Poisson), above 1 clumped, below 1 more even than chance. */
  readonly ratio: number;
  /** (n - 1) ratio. */
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  /** Upper tail: small means clumped. */
  readonly probability: number;
  /** Lower tail: small means more even than chance. */
  readonly probabilityLower: number;
  /** Green's index: 0 under chance, 1 when all cases are in one place; negative when more even than chance. */
  readonly greenIndex: number;
}

/**
 * Variance-to-mean ratio of counts, its chi-square test, and Green's index (ratio - 1) / (sum - 1).
 *
 * Skips NaN. NaN with fewer than two counts or no case at all. For places of unequal size use `binomialHeterogeneity`.
 * The test is weak when the mean is below about 2 or there are fewer than 20 counts.
 * Source: Fisher, Statistical Methods for Research Workers; Green, Res Popul Ecol 1966;8:1-7 (formula from memory).
 */
export function varianceToMean(counts: ArrayLike<number>): VarianceToMean {
  const { n, mean, standardDeviation } = momentsOf(counts);
  const ratio = mean > 0 ? standardDeviation ** 2 / mean : Number.NaN;
  const degreesOfFreedom = n - 1;
  const chiSquare = degreesOfFreedom * ratio;
  const total = Math.round(mean * n);
  return {
    n,
    ratio,
    chiSquare,
    degreesOfFreedom,
    probability: chiSquareUpper(chiSquare, degreesOfFreedom),
    probabilityLower: chiSquareLower(chiSquare, degreesOfFreedom),
    greenIndex: total > 1 ? (ratio - 1) / (total - 1) : Number.NaN,
  };
}

/** Whether shares differ between places by more than chance. */
export interface BinomialHeterogeneity {
  readonly chiSquare: number;
  /** Places with a size above 0, minus 1. */
  readonly degreesOfFreedom: number;
  /** Upper tail: small means that cases are clumped. */
  readonly probability: number;
  /** Lower tail: small means that cases are spread more evenly than chance would. */
  readonly probabilityLower: number;
}

/**
 * Heterogeneity of shares over places of any size: X2 = sum (x_i - n_i p)^2 / (n_i p (1 - p)), p the pooled share.
 * Places of size 0 are left out. NaN with fewer than two places, or when nobody or everybody is a case.
 * Source: Cochran, Biometrics 1954;10:417-51.
 *
 * @throws RangeError when the lengths differ
 */
export function binomialHeterogeneity(cases: ArrayLike<number>, sizes: ArrayLike<number>): BinomialHeterogeneity {
  if (cases.length !== sizes.length) throw new RangeError("As many sizes as case counts are needed.");
  let allCases = 0;
  let all = 0;
  let places = 0;
  for (let i = 0; i < sizes.length; i++) {
    if (!((sizes[i] as number) > 0)) continue;
    allCases += cases[i] as number;
    all += sizes[i] as number;
    places++;
  }
  const share = allCases / all;
  const spread = share * (1 - share);
  let chiSquare = places > 1 && spread > 0 ? 0 : Number.NaN;
  for (let i = 0; i < sizes.length; i++) {
    const size = sizes[i] as number;
    if (size > 0) chiSquare += ((cases[i] as number) - size * share) ** 2 / (size * spread);
  }
  return {
    chiSquare,
    degreesOfFreedom: places - 1,
    probability: chiSquareUpper(chiSquare, places - 1),
    probabilityLower: chiSquareLower(chiSquare, places - 1),
  };
}
