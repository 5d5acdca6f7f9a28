import { fUpper } from "./f.js";
import { leastSquares } from "./least-squares.js";
import { studentTwoSided } from "./student-t.js";

/** One group against the others of the same blocks. */
export interface GroupContrast {
  /** Mean of the group less the mean of the others in the same blocks; NaN where the group has no others to be held against. */
  readonly difference: number;
  readonly standardError: number;
  readonly probability: number;
}

export interface BlockedComparison {
  readonly f: number;
  readonly dfBetween: number;
  readonly dfWithin: number;
  readonly probability: number;
  readonly meanSquareWithin: number;
  readonly contrasts: readonly GroupContrast[];
}

/**
 * Weighted one-way comparison of groups within blocks: observations y with weights w (variance proportional to 1 / w),
 * each of one group and one block. Model y = block + group + error.
 *
 *   F = ((SSE(block) - SSE(block + group)) / dfBetween) / (SSE(block + group) / dfWithin)
 *
 * where dfBetween is the number of group columns that add to the blocks and dfWithin = observations - rank of the whole
 * model. Each group's difference from the others is the coefficient of its indicator after the blocks, its standard error
 * from the mean square of the whole model, its probability from Student's t with dfWithin. With one block this is the
 * classical one-way analysis of variance. Source: general linear hypothesis, Scheffe 1959, The Analysis of Variance
 * (from memory). Fields are NaN where dfWithin or dfBetween is 0.
 */
export function blockedComparison(
  y: Float64Array,
  weights: Float64Array,
  groups: Int32Array,
  groupCount: number,
  blocks: Int32Array,
  blockCount: number,
): BlockedComparison {
  const used = new Set(blocks);
  const centre = (column: Float64Array) => scaledResidual(column, weights, blocks, blockCount);
  const outcome = centre(y);
  const indicators = Array.from({ length: groupCount }, (_, group) =>
    centre(Float64Array.from(groups, (code) => (code === group ? 1 : 0))),
  );
  const model = leastSquares(indicators, outcome);
  const total = sumOfSquares(outcome);
  const dfBetween = model.rank;
  const dfWithin = y.length - used.size - model.rank;
  const meanSquareWithin = dfWithin > 0 ? model.residualSum / dfWithin : Number.NaN;
  const f = dfBetween > 0 ? (total - model.residualSum) / dfBetween / meanSquareWithin : Number.NaN;
  const size = weights.reduce((sum, weight) => sum + weight, 0);
  return {
    f,
    dfBetween,
    dfWithin,
    probability: f >= 0 ? fUpper(f, dfBetween, dfWithin) : Number.NaN,
    meanSquareWithin,
    contrasts: indicators.map((indicator) => {
      const information = sumOfSquares(indicator);
      if (!(information > 1e-9 * size))
        return { difference: Number.NaN, standardError: Number.NaN, probability: Number.NaN };
      let product = 0;
      for (let i = 0; i < indicator.length; i++) product += (indicator[i] as number) * (outcome[i] as number);
      const difference = product / information;
      const standardError = Math.sqrt(meanSquareWithin / information);
      const tested = standardError > 0;
      return {
        difference,
        standardError,
        probability: tested ? studentTwoSided(difference / standardError, dfWithin) : Number.NaN,
      };
    }),
  };
}

/** Residual of a column after its blocks' weighted means, times the root of the weight. */
function scaledResidual(
  column: Float64Array,
  weights: Float64Array,
  blocks: Int32Array,
  blockCount: number,
): Float64Array {
  const sums = new Float64Array(blockCount);
  const sizes = new Float64Array(blockCount);
  for (let i = 0; i < column.length; i++) {
    const block = blocks[i] as number;
    const weight = weights[i] as number;
    sums[block] = (sums[block] as number) + weight * (column[i] as number);
    sizes[block] = (sizes[block] as number) + weight;
  }
  return column.map((value, i) => {
    const block = blocks[i] as number;
    return Math.sqrt(weights[i] as number) * (value - (sums[block] as number) / (sizes[block] as number));
  });
}

function sumOfSquares(column: Float64Array): number {
  let sum = 0;
  for (const value of column) sum += value * value;
  return sum;
}
