import { chiSquareUpper } from "./chi-square.js";
import { momentsOf } from "./moments.js";
import { normalCumulative } from "./normal.js";
import { sortedValues } from "./quantile.js";

/** Anderson-Darling test of normality with mean and standard deviation estimated from the sample. */
export interface AndersonDarling {
  readonly n: number;
  /** A2, 0 for a perfect fit. */
  readonly statistic: number;
  /** A2 (1 + 0.75/n + 2.25/n^2). */
  readonly adjusted: number;
  /** Approximate; never below 3.7e-24, the smallest the approximation gives. NaN for fewer than 8 values. */
  readonly probability: number;
}

/**
 * Anderson-Darling test of normality, skipping NaN.
 *
 *   A2 = -n - (1/n) sum_i (2i - 1) (ln F(z_i) + ln (1 - F(z_(n+1-i)))), z sorted and standardized, F the normal distribution
 *
 * Source: statistic and adjustment from Stephens, Table 4.9 of D'Agostino and Stephens, Goodness-of-Fit Techniques, 1986;
 * probability by the four pieces printed there and used in R's package nortest 1.0.4.
 */
export function andersonDarling(values: ArrayLike<number>): AndersonDarling {
  const sorted = sortedValues(values);
  const n = sorted.length;
  const { mean, standardDeviation } = momentsOf(sorted);
  if (n < 8 || !(standardDeviation > 0)) {
    return { n, statistic: Number.NaN, adjusted: Number.NaN, probability: Number.NaN };
  }
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const low = ((sorted[i] as number) - mean) / standardDeviation;
    const high = ((sorted[n - 1 - i] as number) - mean) / standardDeviation;
    sum += (2 * i + 1) * (logNormalCumulative(low) + logNormalCumulative(-high));
  }
  const statistic = -n - sum / n;
  const adjusted = statistic * (1 + 0.75 / n + 2.25 / (n * n));
  return { n, statistic, adjusted, probability: andersonDarlingProbability(adjusted) };
}

function andersonDarlingProbability(a: number): number {
  if (a < 0.2) return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a * a);
  if (a < 0.34) return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a * a);
  if (a < 0.6) return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a);
  if (a < 10) return Math.exp(1.2937 - 5.709 * a + 0.0186 * a * a);
  return 3.7e-24;
}

/** ln P(Z <= z); below -30, where P nears the smallest number a computer holds, by its asymptotic series. */
function logNormalCumulative(z: number): number {
  if (z > -30) return Math.log(normalCumulative(z));
  const square = z * z;
  const series = 1 - 1 / square + 3 / (square * square) - 15 / (square * square * square);
  return -square / 2 - Math.log(-z) - Math.log(2 * Math.PI) / 2 + Math.log(series);
}

/** D'Agostino-Pearson test of normality: skewness and kurtosis, each as a z, and together. */
export interface DagostinoPearson {
  readonly n: number;
  /** z of the skewness (D'Agostino 1970); needs n >= 8. */
  readonly skewnessZ: number;
  /** z of the kurtosis (Anscombe and Glynn 1983); needs n >= 5, trustworthy from about 20. */
  readonly kurtosisZ: number;
  /** K2 = skewnessZ^2 + kurtosisZ^2. */
  readonly statistic: number;
  /** Upper chi-square tail of K2 with 2 degrees of freedom. */
  readonly probability: number;
}

/**
 * D'Agostino-Pearson omnibus test of normality, skipping NaN. NaN fields where n < 8 or the values do not vary.
 *
 * Source: D'Agostino, Belanger and D'Agostino Jr, Am Stat 1990;44:316-21, equations for Z(sqrt b1), Z(b2), K2.
 */
export function dagostinoPearson(values: ArrayLike<number>): DagostinoPearson {
  const moments = momentsOf(values);
  const { n } = moments;
  if (n < 8 || Number.isNaN(moments.skewnessUnadjusted)) {
    return { n, skewnessZ: Number.NaN, kurtosisZ: Number.NaN, statistic: Number.NaN, probability: Number.NaN };
  }
  const skewnessZ = zOfSkewness(moments.skewnessUnadjusted, n);
  const kurtosisZ = zOfKurtosis(moments.excessKurtosisUnadjusted + 3, n);
  const statistic = skewnessZ * skewnessZ + kurtosisZ * kurtosisZ;
  return { n, skewnessZ, kurtosisZ, statistic, probability: chiSquareUpper(statistic, 2) };
}

function zOfSkewness(skewness: number, n: number): number {
  const y = skewness * Math.sqrt(((n + 1) * (n + 3)) / (6 * (n - 2)));
  const kurtosisOfSkewness = (3 * (n * n + 27 * n - 70) * (n + 1) * (n + 3)) / ((n - 2) * (n + 5) * (n + 7) * (n + 9));
  const wSquared = Math.sqrt(2 * (kurtosisOfSkewness - 1)) - 1;
  const delta = 1 / Math.sqrt(Math.log(Math.sqrt(wSquared)));
  const alpha = Math.sqrt(2 / (wSquared - 1));
  return delta * Math.asinh(y / alpha);
}

function zOfKurtosis(kurtosis: number, n: number): number {
  const expected = (3 * (n - 1)) / (n + 1);
  const variance = (24 * n * (n - 2) * (n - 3)) / ((n + 1) * (n + 1) * (n + 3) * (n + 5));
  const x = (kurtosis - expected) / Math.sqrt(variance);
  const skewnessOfKurtosis =
    ((6 * (n * n - 5 * n + 2)) / ((n + 7) * (n + 9))) * Math.sqrt((6 * (n + 3) * (n + 5)) / (n * (n - 2) * (n - 3)));
  const a =
    6 +
    (8 / skewnessOfKurtosis) * (2 / skewnessOfKurtosis + Math.sqrt(1 + 4 / (skewnessOfKurtosis * skewnessOfKurtosis)));
  const ratio = (1 - 2 / a) / (1 + x * Math.sqrt(2 / (a - 4)));
  return (1 - 2 / (9 * a) - Math.cbrt(ratio)) / Math.sqrt(2 / (9 * a));
}
