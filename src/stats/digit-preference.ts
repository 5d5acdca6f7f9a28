import { goodnessOfFit } from "./goodness-of-fit.js";

/** How unevenly the last digits fall. */
export interface DigitPreference {
  /** Readings counted. */
  readonly n: number;
  /** Digits that the tool can show (10, or fewer for a tool with coarse marks). */
  readonly categories: number;
  readonly chiSquare: number;
  /** categories - 1. */
  readonly degreesOfFreedom: number;
  /** Upper tail; with many readings it is small for unevenness that does not matter. */
  readonly probability: number;
  /** 0 (all digits alike) to 100 (one digit only). Chance alone gives about 100/sqrt(n). */
  readonly score: number;
  /** Share of readings that would have to move to another digit for all to be alike: 0 to 1 - 1/categories. */
  readonly dissimilarity: number;
  /** Share of each digit. */
  readonly share: number[];
}

/**
 * Digit preference of last digits against equal shares.
 *
 *   X2 = sum (O - E)^2 / E, E = n / categories
 *   score = 100 sqrt(X2 / (n (categories - 1)))
 *   dissimilarity = 0.5 sum |O/n - 1/categories|
 *
 * Source: score used by the WHO MONICA project (Kuulasmaa, Hense and Tolonen 1998; the formula is given from memory);
 * dissimilarity: Duncan and Duncan, Am Sociol Rev 1955;20:210-7. All NaN for no readings or fewer than two categories.
 *
 * @param counts readings on each digit the tool can show
 */
export function digitPreference(counts: ArrayLike<number>): DigitPreference {
  const categories = counts.length;
  const fit = goodnessOfFit(counts, new Float64Array(categories).fill(1));
  const { n, chiSquare, degreesOfFreedom, probability } = fit;
  const share = Array.from({ length: categories }, (_, digit) => (counts[digit] as number) / n);
  const usable = !Number.isNaN(chiSquare);
  const away = share.reduce((sum, value) => sum + Math.abs(value - 1 / categories), 0);
  return {
    n,
    categories,
    chiSquare,
    degreesOfFreedom,
    probability,
    score: usable ? 100 * Math.sqrt(chiSquare / (n * degreesOfFreedom)) : Number.NaN,
    dissimilarity: usable ? away / 2 : Number.NaN,
    share,
  };
}
