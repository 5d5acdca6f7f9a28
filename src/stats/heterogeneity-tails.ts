import { chiSquareLower, chiSquareQuantile, chiSquareUpper } from "./chi-square.js";
import { binomialHeterogeneity } from "./dispersion.js";

/** The heterogeneity of shares over places, held against a stated amount of clumping. */
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
 * Tails of X2 = sum (x_i - n_i p)^2 / (n_i p q), p the pooled share, as a chi-square with places - 1 degrees of freedom; for
 * a factor d of true clumping, as d times one. For a given number of cases X2 has mean places - 1 and a variance within 1 / cases
 * of 2 (places - 1), so it holds for rare cases too. Source: Cochran, Biometrics 1954;10:417-51 (from memory); checked by simulation
 * down to 0.6 cases a place. Fields are NaN with fewer than two places or when nobody or everybody is a case.
 */
export function heterogeneityTails(cases: ArrayLike<number>, sizes: ArrayLike<number>): HeterogeneityTails {
  const { chiSquare, degreesOfFreedom: df } = binomialHeterogeneity(cases, sizes);
  const limit = (p: number) => (chiSquare >= 0 ? chiSquareQuantile(p, df) / df : Number.NaN);
  return {
    places: df + 1,
    chiSquare,
    ratio: chiSquare / df,
    chanceLow: limit(0.025),
    chanceHigh: limit(0.975),
    probabilityEven: chiSquareLower(chiSquare, df),
    probabilityAbove: (factor) => chiSquareUpper(chiSquare / factor, df),
  };
}
