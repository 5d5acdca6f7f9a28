import probabilityMass from "@stdlib/stats-base-dists-binomial-pmf";
import { chiSquareQuantile } from "./chi-square.js";
import { digitNoiseValues, fewestListed } from "./digit-noise-values.js";
import { quantile, sortedValues } from "./quantile.js";
import { randomStream, seedFor } from "./random.js";

/** What chance alone gives. */
export interface Noise {
  readonly mean: number;
  /** Chance alone stays at or below this 95 times in 100. */
  readonly upper95: number;
}

/** What chance alone gives for the two measures of digit preference. */
export interface DigitNoise {
  /** Of the score, 0 to 100. */
  readonly score: Noise;
  /** Of the dissimilarity, 0 to 1. */
  readonly dissimilarity: Noise;
}

/** Up to this many readings the noise is simulated; above it the large-sample form is within 2 in 100. */
const largest = 150;
const repeats = 4000;
const noNoise: Noise = { mean: Number.NaN, upper95: Number.NaN };

/**
 * Digit score and dissimilarity of n readings whose digits are drawn evenly: mean, 95th and 99th percentile.
 *
 * Up to 150 readings by 4,000 simulated samples with a fixed seed of its own: for the usual scales listed in
 * digit-noise-values.ts, else simulated when asked for. Above, by the large-sample form: n (categories - 1) (score/100)^2 is chi-square with categories - 1 degrees of freedom; dissimilarity
 * is half the sum of |normal deviates with the multinomial's correlation| (percentiles simulated once) divided by sqrt(n).
 * The mean of the dissimilarity is exact for every n: categories/2 times the mean deviation of a binomial share, by De
 * Moivre's formula E|X - n p| = 2 v (1 - p) P(X = v), v = floor(n p) + 1 (Diaconis and Zabell, Stat Sci 1991;6:284-302).
 *
 * @param n readings; below 1 gives NaN
 * @param categories digits the tool can show, 2 or more
 */
export function digitNoise(n: number, categories = 10): DigitNoise {
  if (!(n >= 1) || !(categories >= 2)) return { score: noNoise, dissimilarity: noNoise };
  if (n > largest) return largeSample(n, categories);
  const listed = digitNoiseValues[categories]?.samples[n - fewestListed];
  if (listed === undefined) return simulateDigitNoise(n, categories);
  const [mean, upper95, dissimilarity95] = listed;
  return {
    score: { mean, upper95 },
    dissimilarity: { mean: meanDissimilarity(n, categories), upper95: dissimilarity95 },
  };
}

/** The noise of n readings from simulated samples: what digit-noise-values.ts lists. */
export function simulateDigitNoise(n: number, categories: number): DigitNoise {
  const stream = randomStream(seedFor(categories, `digit-noise/${n}`));
  const scores = new Float64Array(repeats);
  const dissimilarities = new Float64Array(repeats);
  const counts = new Int32Array(categories);
  const expected = n / categories;
  for (let repeat = 0; repeat < repeats; repeat++) {
    counts.fill(0);
    for (let i = 0; i < n; i++) {
      const digit = stream.below(categories);
      counts[digit] = (counts[digit] as number) + 1;
    }
    let squares = 0;
    let away = 0;
    for (const count of counts) {
      squares += (count - expected) ** 2;
      away += Math.abs(count - expected);
    }
    scores[repeat] = 100 * Math.sqrt(squares / expected / (n * (categories - 1)));
    dissimilarities[repeat] = away / (2 * n);
  }
  return {
    score: summary(scores),
    dissimilarity: { ...summary(dissimilarities), mean: meanDissimilarity(n, categories) },
  };
}

function meanDissimilarity(n: number, categories: number): number {
  const share = 1 / categories;
  const next = Math.floor(n * share) + 1;
  const meanDeviation = 2 * next * (1 - share) * probabilityMass(next, n, share);
  return (categories * meanDeviation) / (2 * n);
}

function summary(values: Float64Array): Noise {
  const sorted = sortedValues(values);
  const mean = sorted.reduce((sum, value) => sum + value, 0) / sorted.length;
  return { mean, upper95: quantile(sorted, 0.95) };
}

function largeSample(n: number, categories: number): DigitNoise {
  const df = categories - 1;
  const scale = 100 / Math.sqrt(n * df);
  const limit = digitNoiseValues[categories]?.limit ?? simulateDissimilarityLimit(categories);
  return {
    score: {
      mean: scale * meanOfChi(df),
      upper95: scale * Math.sqrt(chiSquareQuantile(0.95, df)),
    },
    dissimilarity: {
      mean: meanDissimilarity(n, categories),
      upper95: limit / Math.sqrt(n),
    },
  };
}

/** Mean of the square root of a chi-square: sqrt(2) Gamma((df + 1)/2) / Gamma(df/2), by the product from df = 1 or 2. */
function meanOfChi(df: number): number {
  let mean = df % 2 === 1 ? Math.sqrt(2 / Math.PI) : Math.sqrt(Math.PI / 2);
  for (let from = df % 2 === 1 ? 1 : 2; from < df; from += 2) mean *= (from + 1) / from;
  return mean;
}

/** 95th percentile of sqrt(n) times the dissimilarity, for n without end, from simulated samples. */
export function simulateDissimilarityLimit(categories: number): number {
  const stream = randomStream(seedFor(categories, "digit-noise/limit"));
  const values = new Float64Array(5 * repeats);
  const deviates = new Float64Array(categories);
  for (let repeat = 0; repeat < values.length; repeat++) {
    let sum = 0;
    for (let i = 0; i < categories; i++) {
      const deviate = stream.normal();
      deviates[i] = deviate;
      sum += deviate;
    }
    let away = 0;
    for (const deviate of deviates) away += Math.abs(deviate - sum / categories);
    values[repeat] = away / (2 * Math.sqrt(categories));
  }
  return summary(values).upper95;
}
