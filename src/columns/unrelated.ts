import { sampleCorrelation, standardDeviation } from "simple-statistics";
import { placeOf, type TextTable } from "../read/table.js";
import { type InputProblem, inputProblem } from "../settings/problems.js";
import type { ReadColumns } from "./read-columns.js";

/** Own rules: rows from which a column is judged by what it holds as a whole. */
const fewestRows = 50;
/** Weight and height of children whose heights spread by at least so many centimetres (SD) go together far more than this. */
const leastSpread = 5;
const leastCorrelation = 0.3;
/** More of the children than this with oedema is no survey of a population. */
const mostWithOedema = 0.5;

/** Positions of the values in their order; equal values share the mean of theirs. */
function ranks(values: readonly number[]): number[] {
  const order = [...values.keys()].sort((a, b) => (values[a] as number) - (values[b] as number));
  const found = new Array<number>(values.length).fill(0);
  for (let from = 0; from < order.length; ) {
    let to = from + 1;
    while (to < order.length && values[order[to] as number] === values[order[from] as number]) to += 1;
    for (let k = from; k < to; k++) found[order[k] as number] = (from + to - 1) / 2;
    from = to;
  }
  return found;
}

/**
 * Weight and height that do not belong to the same children: one column was sorted by itself, filled from another table, or is not
 * what it is taken for. Spearman's rank correlation (product-moment correlation of the ranks) below 0.3 in at least 50 rows
 * whose heights spread by 5 cm or more; surveys of children under five have 0.8 and more.
 */
function unrelatedMeasures(table: TextTable, columns: ReadColumns): InputProblem[] {
  const weight = columns.measures.get("weight");
  const height = columns.measures.get("height");
  if (weight === undefined || height === undefined || weight.unit === null || height.unit === null) return [];
  const pairs = [...weight.column.values]
    .map((kilograms, row) => [kilograms, height.column.values[row] as number] as const)
    .filter(([a, b]) => !Number.isNaN(a) && !Number.isNaN(b));
  const heights = pairs.map(([, own]) => own);
  if (pairs.length < fewestRows || !(standardDeviation(heights) >= leastSpread)) return [];
  const correlation = sampleCorrelation(ranks(pairs.map(([own]) => own)), ranks(heights));
  if (!(correlation < leastCorrelation)) return [];
  const details = {
    weight: weight.cells.name,
    height: height.cells.name,
    both: pairs.length,
    correlation: Number(correlation.toFixed(2)),
  };
  return [inputProblem("measures-unrelated", placeOf(table), { details })];
}

/** Oedema in most children: far more likely 'no' was taken for 'yes'. */
function mostlyOedema(columns: ReadColumns): InputProblem[] {
  const read = columns.codes.get("oedema");
  if (read === undefined) return [];
  let [known, present] = [0, 0];
  read.byText.forEach((code, index) => {
    if (code < 0 || code > 1) return;
    const rows = read.cells.counts[index] ?? 0;
    known += rows;
    if (code === 1) present += rows;
  });
  if (known < fewestRows || present <= mostWithOedema * known) return [];
  const details = { known, present };
  return [inputProblem("oedema-in-most", read.cells.file, { column: read.cells.name, details })];
}

/** Columns that cannot be what they are taken for, by all their values together. */
export function unlikelyColumns(table: TextTable, columns: ReadColumns): InputProblem[] {
  return [...unrelatedMeasures(table, columns), ...mostlyOedema(columns)];
}
