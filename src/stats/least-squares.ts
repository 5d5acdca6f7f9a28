/** A straight-line fit of several predictors. */
export interface LeastSquares {
  /** One coefficient a predictor; 0 for a predictor that the earlier ones already hold. */
  readonly coefficients: readonly number[];
  /** Number of predictors that add something. */
  readonly rank: number;
  /** Sum of squared residuals. */
  readonly residualSum: number;
}

/**
 * Ordinary least squares without an intercept (centre the columns, or give a column of ones): minimises
 * sum (y - sum_k b_k x_k)^2. Modified Gram-Schmidt, predictors in the order given; one that keeps less than 1e-9 of its
 * own sum of squares after the earlier ones is left out. Source: Golub and Van Loan, Matrix Computations, on modified
 * Gram-Schmidt (from memory). No missing values; all columns of one length.
 */
export function leastSquares(predictors: readonly Float64Array[], y: Float64Array): LeastSquares {
  const rest = Float64Array.from(y);
  const count = predictors.length;
  const bases: { readonly column: Float64Array; readonly size: number }[] = [];
  // upper[k][j]: how much of basis j predictor k holds; projected[j]: how much of it y holds.
  const upper = predictors.map(() => new Float64Array(count));
  const projected = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const column = Float64Array.from(predictors[k] as Float64Array);
    const before = dot(column, column);
    for (let j = 0; j < k; j++) {
      const basis = bases[j];
      if (basis === undefined || basis.size === 0) continue;
      const share = dot(column, basis.column) / basis.size;
      (upper[k] as Float64Array)[j] = share;
      subtract(column, basis.column, share);
    }
    const left = dot(column, column);
    const size = left > 1e-9 * before ? left : 0;
    bases.push({ column, size });
    if (size === 0) continue;
    projected[k] = dot(rest, column) / size;
    subtract(rest, column, projected[k] as number);
  }
  const coefficients = new Array<number>(count).fill(0);
  for (let k = count - 1; k >= 0; k--) {
    if (bases[k]?.size === 0) continue;
    let value = projected[k] as number;
    for (let later = k + 1; later < count; later++) {
      value -= (upper[later]?.[k] ?? 0) * (coefficients[later] as number);
    }
    coefficients[k] = value;
  }
  return { coefficients, rank: bases.filter((basis) => basis.size > 0).length, residualSum: dot(rest, rest) };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}

function subtract(from: Float64Array, what: Float64Array, times: number): void {
  for (let i = 0; i < from.length; i++) from[i] = (from[i] as number) - times * (what[i] as number);
}
