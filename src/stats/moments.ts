import { mean, sampleKurtosis, sampleSkewness, sampleStandardDeviation } from "simple-statistics";

/** Moments of a sample. A field is NaN where the sample is too small or does not vary. */
export interface Moments {
  /** Values that were numbers. */
  readonly n: number;
  readonly mean: number;
  /** Divides by n - 1; needs n >= 2. */
  readonly standardDeviation: number;
  /** G1, adjusted for sample size ('type 2'); needs n >= 3. */
  readonly skewness: number;
  /** G2, adjusted for sample size ('type 2'), 0 for a normal distribution; needs n >= 4. */
  readonly excessKurtosis: number;
  /** g1 = m3 / m2^1.5 ('type 1'). */
  readonly skewnessUnadjusted: number;
  /** g2 = m4 / m2^2 - 3 ('type 1'); the Pearson kurtosis b2 is this plus 3. */
  readonly excessKurtosisUnadjusted: number;
  /** Standard error of G1 for a simple random sample of a normal population. */
  readonly standardErrorOfSkewness: number;
  /** Standard error of G2 for a simple random sample of a normal population. */
  readonly standardErrorOfKurtosis: number;
}

/**
 * Mean, standard deviation, skewness and kurtosis, skipping NaN.
 *
 * With m_k = sum (x - mean)^k / n:
 *   g1 = m3 / m2^1.5                     g2 = m4 / m2^2 - 3
 *   G1 = g1 sqrt(n (n - 1)) / (n - 2)    G2 = (n - 1) / ((n - 2)(n - 3)) ((n + 1) g2 + 6)
 *   SE(G1) = sqrt(6 n (n - 1) / ((n - 2)(n + 1)(n + 3)))
 *   SE(G2) = 2 SE(G1) sqrt((n^2 - 1) / ((n - 3)(n + 5)))
 * The two standard errors hold for normal data drawn one by one: for skewed data, or children who come in clusters,
 * the true ones are larger.
 *
 * Mean, standard deviation, G1 and G2 are those of the package simple-statistics; g1 and g2 follow from them.
 *
 * Source: Joanes and Gill, The Statistician 1998;47:183-9 (types 1 and 2); Cramer 1946 (standard errors).
 */
export function momentsOf(values: ArrayLike<number>): Moments {
  const known = Array.from(values).filter((value) => !Number.isNaN(value));
  const n = known.length;
  if (n === 0) return { ...nothing, n };
  const average = mean(known);
  const standardDeviation = n < 2 ? Number.NaN : sampleStandardDeviation(known);
  // Rounding of a constant column must not look like spread.
  const varies = standardDeviation > Math.abs(average) * 1e-14;
  const skewness = varies && n >= 3 ? sampleSkewness(known) : Number.NaN;
  const excessKurtosis = varies && n >= 4 ? sampleKurtosis(known) : Number.NaN;
  const errorOfSkewness = n >= 3 ? Math.sqrt((6 * n * (n - 1)) / ((n - 2) * (n + 1) * (n + 3))) : Number.NaN;
  return {
    n,
    mean: average,
    standardDeviation: n >= 2 && !varies ? 0 : standardDeviation,
    skewness,
    excessKurtosis,
    skewnessUnadjusted: (skewness * (n - 2)) / Math.sqrt(n * (n - 1)),
    excessKurtosisUnadjusted: ((excessKurtosis * (n - 2) * (n - 3)) / (n - 1) - 6) / (n + 1),
    standardErrorOfSkewness: errorOfSkewness,
    standardErrorOfKurtosis: n >= 4 ? 2 * errorOfSkewness * Math.sqrt((n * n - 1) / ((n - 3) * (n + 5))) : Number.NaN,
  };
}

const nothing: Omit<Moments, "n"> = {
  mean: Number.NaN,
  standardDeviation: Number.NaN,
  skewness: Number.NaN,
  excessKurtosis: Number.NaN,
  skewnessUnadjusted: Number.NaN,
  excessKurtosisUnadjusted: Number.NaN,
  standardErrorOfSkewness: Number.NaN,
  standardErrorOfKurtosis: Number.NaN,
};
