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
 * Source: Joanes and Gill, The Statistician 1998;47:183-9 (types 1 and 2); Cramer 1946 (standard errors).
 */
export function momentsOf(values: ArrayLike<number>): Moments {
  const { n, mean } = countAndMean(values);
  let sum2 = 0;
  let sum3 = 0;
  let sum4 = 0;
  for (let i = 0; i < values.length; i++) {
    const deviation = (values[i] as number) - mean;
    if (Number.isNaN(deviation)) continue;
    const square = deviation * deviation;
    sum2 += square;
    sum3 += square * deviation;
    sum4 += square * square;
  }
  // Rounding of a constant column must not look like spread.
  const varies = sum2 > n * (Math.abs(mean) * 1e-14) ** 2;
  const m2 = sum2 / n;
  const g1 = varies && n >= 3 ? sum3 / n / m2 ** 1.5 : Number.NaN;
  const g2 = varies && n >= 4 ? sum4 / n / (m2 * m2) - 3 : Number.NaN;
  const errorOfSkewness = n >= 3 ? Math.sqrt((6 * n * (n - 1)) / ((n - 2) * (n + 1) * (n + 3))) : Number.NaN;
  return {
    n,
    mean,
    standardDeviation: n < 2 ? Number.NaN : varies ? Math.sqrt(sum2 / (n - 1)) : 0,
    skewness: n >= 3 ? (g1 * Math.sqrt(n * (n - 1))) / (n - 2) : Number.NaN,
    excessKurtosis: n >= 4 ? ((n - 1) / ((n - 2) * (n - 3))) * ((n + 1) * g2 + 6) : Number.NaN,
    skewnessUnadjusted: g1,
    excessKurtosisUnadjusted: g2,
    standardErrorOfSkewness: errorOfSkewness,
    standardErrorOfKurtosis: n >= 4 ? 2 * errorOfSkewness * Math.sqrt((n * n - 1) / ((n - 3) * (n + 5))) : Number.NaN,
  };
}

/** Number and mean of the values that are not NaN; the mean in two passes, so that it is good to the last digits. */
function countAndMean(values: ArrayLike<number>): { readonly n: number; readonly mean: number } {
  let n = 0;
  let sum = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    if (Number.isNaN(value)) continue;
    n++;
    sum += value;
  }
  if (n === 0) return { n, mean: Number.NaN };
  const first = sum / n;
  let rest = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    if (!Number.isNaN(value)) rest += value - first;
  }
  return { n, mean: first + rest / n };
}
