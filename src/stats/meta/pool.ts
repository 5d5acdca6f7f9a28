/** Estimates of the same quantity from separate samples, with the variance of each. */
export interface Studies {
  readonly values: Float64Array;
  /** All above 0. */
  readonly variances: Float64Array;
}

/** A mean over studies. NaN without any. */
export interface Pooled {
  readonly estimate: number;
  readonly variance: number;
  /** sum w (y - mean)^2: Cochran's Q where the weights are those of the fixed-effect model. */
  readonly q: number;
}

/** The studies that can be weighted: a finite value and a finite variance above 0. An estimate without sampling error would take all the weight. */
export function usableStudies(values: ArrayLike<number>, variances: ArrayLike<number>): Studies {
  const kept: number[] = [];
  for (let i = 0; i < values.length; i++) {
    const variance = variances[i] as number;
    if (Number.isFinite(values[i]) && Number.isFinite(variance) && variance > 0) kept.push(i);
  }
  return {
    values: Float64Array.from(kept, (i) => values[i] as number),
    variances: Float64Array.from(kept, (i) => variances[i] as number),
  };
}

/**
 * Mean of studies weighted by the inverse of their variance: w = 1 / (v + tau^2), mean = sum w y / sum w, its variance
 * 1 / sum w. With tauSquared = 0 the fixed-effect model (one common value), else the random-effects model (values that differ
 * with variance tau^2).
 *
 * Source: DerSimonian and Laird, Control Clin Trials 1986;7:177-88 (from memory); checked against R's metafor.
 */
export function poolStudies({ values, variances }: Studies, tauSquared = 0): Pooled {
  let weights = 0;
  let sum = 0;
  for (let i = 0; i < values.length; i++) {
    const weight = 1 / ((variances[i] as number) + tauSquared);
    weights += weight;
    sum += weight * (values[i] as number);
  }
  const estimate = sum / weights;
  let q = 0;
  for (let i = 0; i < values.length; i++) {
    q += ((values[i] as number) - estimate) ** 2 / ((variances[i] as number) + tauSquared);
  }
  return { estimate, variance: 1 / weights, q: weights > 0 ? q : Number.NaN };
}
