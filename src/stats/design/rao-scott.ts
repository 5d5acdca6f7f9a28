import { chiSquareUpper } from "../chi-square.js";
import { fUpper } from "../f.js";
import { clusterCovariance } from "./cluster-variance.js";
import { reached } from "./domain.js";
import { solve } from "./linear-algebra.js";
import type { SurveyDesign } from "./survey-design.js";

/** Test that a share is the same in all groups, corrected for the design. NaN where it cannot be computed. */
export interface RaoScott {
  /** Pearson's chi-square of the weighted table scaled to n. */
  readonly chiSquare: number;
  /** F = chiSquare / sum of the generalized design effects (second-order correction). */
  readonly statistic: number;
  /** (sum of design effects)^2 / sum of their squares. */
  readonly numeratorDf: number;
  /** numeratorDf times (clusters minus strata). */
  readonly denominatorDf: number;
  /** Upper tail of F: the one to use. */
  readonly probability: number;
  /** Upper chi-square tail of chiSquare / mean design effect, groups - 1 degrees of freedom (first-order correction). */
  readonly probabilityFirstOrder: number;
  /** Groups with a row in the domain. */
  readonly groups: number;
}

/**
 * Rao-Scott test of the table case by group. NaN when fewer than two groups have a row, or nobody or everybody is a case.
 *
 * With cell shares q (weighted), their covariance V (linearized), D = diag(q), C a basis of the interaction contrasts and
 * n rows: the generalized design effects are the eigenvalues of (C' D^-1 C / n)^-1 C' D^-1 V D^-1 C. Only their sum and
 * the sum of their squares are needed: the traces of that matrix and of its square. An empty cell counts 0 in D^-1.
 *
 * Source: Rao and Scott, Ann Stat 1984;12:46-60; second order with F and its degrees of freedom: Thomas and Rao, JASA
 * 1987;82:630-6. Definition as in R's package survey 4.1.1.
 *
 * @param isCase 1 case, 0 not; NaN is left out
 * @param groups code of each row's group, 0 to groupCount - 1; a negative code is left out
 * @param inDomain 1 in, 0 out
 */
export function raoScott(
  design: SurveyDesign,
  isCase: Uint8Array | Float64Array,
  groups: ArrayLike<number>,
  groupCount: number,
  inDomain: Uint8Array,
): RaoScott {
  const table = cellTable(design, isCase, groups, groupCount, inDomain);
  const chiSquare = pearson(table);
  const moments = Number.isNaN(chiSquare) ? null : designEffectTraces(design, table);
  if (moments === null) return cannotTell(chiSquare, table.groups);
  const { trace, traceOfSquare } = moments;
  const numeratorDf = trace ** 2 / traceOfSquare;
  const denominatorDf = numeratorDf * table.degreesOfFreedom;
  const statistic = chiSquare / trace;
  const contrasts = table.groups - 1;
  return {
    chiSquare,
    statistic,
    numeratorDf,
    denominatorDf,
    probability: fUpper(statistic, numeratorDf, denominatorDf),
    probabilityFirstOrder: chiSquareUpper((chiSquare * contrasts) / trace, contrasts),
    groups: table.groups,
  };
}

function cannotTell(chiSquare: number, groups: number): RaoScott {
  const { NaN: none } = Number;
  return {
    chiSquare,
    statistic: none,
    numeratorDf: none,
    denominatorDf: none,
    probability: none,
    probabilityFirstOrder: none,
    groups,
  };
}

/** Weighted shares of the cells (not a case, then a case, of each group in turn) and the clusters' weights in them. */
interface CellTable {
  readonly n: number;
  readonly weight: number;
  readonly groups: number;
  readonly shares: Float64Array;
  readonly weightOfCluster: Float64Array;
  readonly cellsOfCluster: readonly Float64Array[];
  readonly degreesOfFreedom: number;
  /** Cell of a row among those of the table, -1 outside it. */
  readonly cellOf: (row: number) => number;
}

function cellTable(
  design: SurveyDesign,
  isCase: ArrayLike<number>,
  groups: ArrayLike<number>,
  groupCount: number,
  inDomain: ArrayLike<number>,
): CellTable {
  const cells = Array.from({ length: 2 * groupCount }, () => new Float64Array(design.clusterCount));
  const weightOfCluster = new Float64Array(design.clusterCount);
  const sums = new Float64Array(2 * groupCount);
  let n = 0;
  let weight = 0;
  for (let i = 0; i < design.count; i++) {
    const group = groups[i] as number;
    const w = design.weight[i] as number;
    const value = isCase[i] as number;
    if (inDomain[i] !== 1 || !(w > 0) || !(group >= 0) || Number.isNaN(value)) continue;
    const index = 2 * group + (value === 1 ? 1 : 0);
    const cell = cells[index] as Float64Array;
    const c = design.cluster[i] as number;
    cell[c] = (cell[c] as number) + w;
    weightOfCluster[c] = (weightOfCluster[c] as number) + w;
    sums[index] = (sums[index] as number) + w;
    n++;
    weight += w;
  }
  const kept = [...sums.keys()].filter((index) => (sums[index & ~1] as number) + (sums[index | 1] as number) > 0);
  const place = new Map(kept.map((index, k) => [index, k]));
  const cellOf = (i: number): number => {
    const group = groups[i] as number;
    const value = isCase[i] as number;
    if (inDomain[i] !== 1 || !((design.weight[i] as number) > 0) || !(group >= 0) || Number.isNaN(value)) return -1;
    return place.get(2 * group + (value === 1 ? 1 : 0)) ?? -1;
  };
  return {
    n,
    weight,
    groups: kept.length / 2,
    shares: Float64Array.from(kept, (index) => (sums[index] as number) / weight),
    weightOfCluster,
    cellsOfCluster: kept.map((index) => cells[index] as Float64Array),
    degreesOfFreedom: reached(design, weightOfCluster).degreesOfFreedom,
    cellOf,
  };
}

/** n sum (q - q_row q_column)^2 / (q_row q_column); NaN for fewer than two groups or a row without anybody. */
function pearson(table: CellTable): number {
  const { shares, groups, n } = table;
  let cases = 0;
  for (let g = 0; g < groups; g++) cases += shares[2 * g + 1] as number;
  if (groups < 2 || !(cases > 0) || !(cases < 1 - 1e-14)) return Number.NaN;
  let sum = 0;
  for (let g = 0; g < groups; g++) {
    const size = (shares[2 * g] as number) + (shares[2 * g + 1] as number);
    const expectedCases = size * cases;
    const expectedOthers = size * (1 - cases);
    sum += ((shares[2 * g + 1] as number) - expectedCases) ** 2 * (1 / expectedCases + 1 / expectedOthers);
  }
  return n * sum;
}

/** Trace of the matrix of generalized design effects, and of its square. */
function designEffectTraces(
  design: SurveyDesign,
  table: CellTable,
): { readonly trace: number; readonly traceOfSquare: number } | null {
  const { shares, n, weight, groups } = table;
  const scores = table.cellsOfCluster.map((cell, index) =>
    cell.map((w, c) => (w - (shares[index] as number) * (table.weightOfCluster[c] as number)) / weight),
  );
  const inverse = Array.from(shares, (share) => (share === 0 ? 0 : 1 / share));
  // Contrast j: the difference between case and not, in group j + 1 against the first.
  const contrasts = Array.from({ length: groups - 1 }, (_, j) => [
    { cell: 0, sign: 1 },
    { cell: 1, sign: -1 },
    { cell: 2 * (j + 1), sign: -1 },
    { cell: 2 * (j + 1) + 1, sign: 1 },
  ]);
  const combined = contrasts.map((contrast) => {
    const sum = new Float64Array(design.clusterCount);
    for (const { cell, sign } of contrast) {
      const score = scores[cell] as Float64Array;
      const factor = sign * (inverse[cell] as number);
      for (let c = 0; c < sum.length; c++) sum[c] = (sum[c] as number) + factor * (score[c] as number);
    }
    return sum;
  });
  const size = groups - 1;
  const rowScore = (row: number, contrast: number): number => {
    const own = table.cellOf(row);
    if (own < 0) return 0;
    let sum = 0;
    for (const { cell, sign } of contrasts[contrast] ?? []) {
      const factor = sign * (inverse[cell] as number);
      sum += factor * ((own === cell ? 1 : 0) - (shares[cell] as number));
    }
    return (sum * (design.weight[row] as number)) / weight;
  };
  const { variances } = clusterCovariance(design, combined, rowScore);
  const designed = contrasts.map((_, a) => contrasts.map((_, b) => variances[a * size + b] as number));
  const simple = contrasts.map((first) =>
    contrasts.map((second) => {
      let sum = 0;
      for (const one of first) {
        for (const two of second)
          if (one.cell === two.cell) sum += (one.sign * two.sign * (inverse[one.cell] as number)) / n;
      }
      return sum;
    }),
  );
  const matrix = solve(simple, designed);
  if (matrix === null) return null;
  let trace = 0;
  let traceOfSquare = 0;
  for (let a = 0; a < size; a++) {
    trace += matrix[a]?.[a] as number;
    for (let b = 0; b < size; b++) traceOfSquare += (matrix[a]?.[b] as number) * (matrix[b]?.[a] as number);
  }
  return trace > 0 ? { trace, traceOfSquare } : null;
}
