import { inverse, type Matrix } from "./small-matrix.js";

/** A logistic regression: coefficients and their covariance. */
export interface LogisticFit {
  readonly coefficients: readonly number[];
  readonly covariance: Matrix;
}

const mostSteps = 30;
/** A little of a normal distribution around nought, so that no coefficient runs away where cases and others part wholly. */
const priorPrecision = 0.1;

/** P(case) = 1 / (1 + exp(-x b)). */
export const logisticChance = (coefficients: readonly number[], x: readonly number[]): number =>
  1 / (1 + Math.exp(-coefficients.reduce((sum, one, k) => sum + one * (x[k] ?? 0), 0)));

/**
 * Weighted logistic regression by Newton's method, all coefficients but the first drawn a little to nought (normal, variance
 * 10). Weights are brought to a mean of 1. Null where it does not settle or there are no cases, or nothing but cases.
 * Source: McCullagh and Nelder, Generalized Linear Models, 1989 (from memory).
 */
export function logisticFit(
  rows: readonly (readonly number[])[],
  isCase: ArrayLike<number>,
  weights: ArrayLike<number>,
): LogisticFit | null {
  const size = rows[0]?.length ?? 0;
  let total = 0;
  let cases = 0;
  for (let i = 0; i < rows.length; i++) {
    total += weights[i] ?? 0;
    cases += (weights[i] ?? 0) * (isCase[i] ?? 0);
  }
  if (!(cases > 0) || !(cases < total) || size === 0) return null;
  const scale = rows.length / total;
  let coefficients = new Array<number>(size).fill(0);
  coefficients[0] = Math.log(cases / (total - cases));
  for (let step = 0; step < mostSteps; step++) {
    const information = Array.from({ length: size }, (_, j) =>
      Array.from({ length: size }, (_, k) => (j === k && j > 0 ? priorPrecision : 0)),
    );
    const score = coefficients.map((one, k) => (k === 0 ? 0 : -priorPrecision * one));
    for (let i = 0; i < rows.length; i++) {
      const x = rows[i] as readonly number[];
      const weight = (weights[i] ?? 0) * scale;
      if (!(weight > 0)) continue;
      const chance = logisticChance(coefficients, x);
      const rest = weight * ((isCase[i] ?? 0) - chance);
      const spread = weight * chance * (1 - chance);
      for (let j = 0; j < size; j++) {
        score[j] = (score[j] as number) + rest * (x[j] as number);
        const row = information[j] as number[];
        for (let k = 0; k < size; k++) row[k] = (row[k] as number) + spread * (x[j] as number) * (x[k] as number);
      }
    }
    const covariance = inverse(information);
    if (covariance === null) return null;
    let most = 0;
    const before = coefficients;
    coefficients = before.map((one, j) => {
      const move = score.reduce((sum, value, k) => sum + value * (covariance[j]?.[k] ?? 0), 0);
      most = Math.max(most, Math.abs(move));
      return one + move;
    });
    if (most < 1e-8) return { coefficients, covariance };
  }
  return null;
}
