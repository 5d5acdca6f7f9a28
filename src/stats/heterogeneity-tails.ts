import { chiSquareLower, chiSquareQuantile, chiSquareUpper } from "./chi-square.js";
import { binomialHeterogeneity } from "./dispersion.js";

/** The heterogeneity of shares over places, held against a stated amount of clumping, also where cases are few. */
export interface HeterogeneityTails {
  readonly places: number;
  /** X2 of the binomial heterogeneity. */
  readonly chiSquare: number;
  /** X2 / (places - 1): 1 under chance alone, above it clumped, below it more even. About the design effect of the share. */
  readonly ratio: number;
  /** Limits of the ratio that chance alone keeps 95 times in 100. */
  readonly chanceLow: number;
  readonly chanceHigh: number;
  /** P(a ratio as low or lower) under chance alone. */
  readonly probabilityEven: number;
  /** P(a ratio as high or higher) where places truly differ by the factor given to the function. */
  probabilityAbove(factor: number): number;
}

/**
 * Tails of X2 = sum (x_i - n_i p)^2 / (n_i p q) that hold for few cases too: X2 is taken as a multiple of a chi-square with
 * the mean and variance of the sum itself. The variance of one squared standardized binomial deviate is
 *
 *   2 + (1 - 6 p q) / (n_i p q)     (fourth central moment of the binomial distribution)
 *
 * so Var = (k - 1)/k sum_i of it, mean = k - 1, scale = Var / (2 mean), degrees of freedom = 2 mean^2 / Var. For a factor d
 * of true clumping both X2's mean and its root variance are taken d times as large. Source: the binomial's moments are
 * textbook; matching two moments follows Satterthwaite, Biometrics 1946;2:110-4 (from memory); checked by simulation.
 * Fields are NaN with fewer than two places or when nobody or everybody is a case.
 */
export function heterogeneityTails(cases: ArrayLike<number>, sizes: ArrayLike<number>): HeterogeneityTails {
  const { chiSquare, degreesOfFreedom } = binomialHeterogeneity(cases, sizes);
  const places = degreesOfFreedom + 1;
  let all = 0;
  let allCases = 0;
  for (let i = 0; i < sizes.length; i++) {
    all += sizes[i] as number;
    allCases += cases[i] as number;
  }
  const share = allCases / all;
  const spread = share * (1 - share);
  let variance = 0;
  for (let i = 0; i < sizes.length; i++) {
    const size = sizes[i] as number;
    if (size > 0) variance += 2 + (1 - 6 * spread) / (size * spread);
  }
  variance *= degreesOfFreedom / places;
  const scale = variance / (2 * degreesOfFreedom);
  const df = (2 * degreesOfFreedom ** 2) / variance;
  const limit = (p: number) =>
    df > 0 && df < Number.POSITIVE_INFINITY ? (scale * chiSquareQuantile(p, df)) / degreesOfFreedom : Number.NaN;
  return {
    places,
    chiSquare,
    ratio: chiSquare / degreesOfFreedom,
    chanceLow: limit(0.025),
    chanceHigh: limit(0.975),
    probabilityEven: chiSquareLower(chiSquare / scale, df),
    probabilityAbove: (factor) => chiSquareUpper(chiSquare / (scale * factor), df),
  };
}
