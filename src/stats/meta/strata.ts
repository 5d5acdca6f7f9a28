/** A mean or share of several populations taken together. NaN where a part is missing. */
export interface CombinedStrata {
  readonly estimate: number;
  readonly variance: number;
  readonly standardError: number;
  readonly degreesOfFreedom: number;
}

/** A separate sample of one of the populations. */
export interface Stratum {
  readonly estimate: number;
  readonly variance: number;
  readonly degreesOfFreedom: number;
  /** Size of its population, above 0. */
  readonly population: number;
}

/**
 * Separate samples as the strata of one population: with W the sizes of the populations, estimate = sum W_h p_h / sum W, variance
 * = sum (W_h / sum W)^2 v_h, degrees of freedom by Satterthwaite, variance^2 / sum (((W_h / sum W)^2 v_h)^2 / df_h).
 *
 * Unlike a mean weighted by precision it is the figure of the children in these populations, whether or not these differ.
 *
 * Source: Cochran, Sampling Techniques, 1977, ch. 5; Satterthwaite, Biometrics Bulletin 1946;2:110-4 (from memory).
 */
export function combineStrata(strata: readonly Stratum[]): CombinedStrata {
  const whole = strata.reduce((sum, { population }) => sum + population, 0);
  let estimate = 0;
  let variance = 0;
  let squares = 0;
  for (const stratum of strata) {
    const share = stratum.population / whole;
    const part = share ** 2 * stratum.variance;
    estimate += share * stratum.estimate;
    variance += part;
    // A part without sampling error says nothing about the degrees of freedom.
    if (part !== 0) squares += part ** 2 / stratum.degreesOfFreedom;
  }
  if (strata.length === 0 || !(whole > 0)) estimate = variance = Number.NaN;
  return { estimate, variance, standardError: Math.sqrt(variance), degreesOfFreedom: variance ** 2 / squares };
}
