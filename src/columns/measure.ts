import { type InputProblem, inputProblem } from "../settings/problems.js";
import type { MeasureRole, RoleSpec } from "../settings/roles.js";
import { type Cells, cellProblem, spreadNumbers } from "./cells.js";
import { countMissing, missingTexts } from "./missing.js";
import { readNumbers } from "./numbers.js";
import { partOff } from "./possible.js";
import type { MeasureColumn } from "./survey.js";
import { fits, toStandard, type Unit, unitsOf } from "./units.js";

/** A measured column, understood. */
export interface ReadMeasure {
  readonly cells: Cells;
  readonly column: MeasureColumn;
  /** For each distinct text, its number as written where a child can measure it; NaN elsewhere. */
  readonly inside: Float64Array;
  /** The unit settled on; null when none could be. */
  readonly unit: Unit | null;
  /** For each distinct text, 1 where it stands for a missing value. */
  readonly missing: Uint8Array;
  /** The decimal sign in use; null when only whole numbers were met. */
  readonly decimal: "point" | "comma" | null;
  readonly problems: readonly InputProblem[];
}

/** Texts such as 99, 999.9, 888 or -9: outside what the column can hold, they stand for 'not measured' more likely than for a slip. */
const codeLike = /^(?:-9{1,4}|-?9{2,5}(?:[.,]9{1,2})?|8{2,5}(?:[.,]8{1,2})?)(?:[.,]0+)?$/;

/** True for a number that can be somebody's measure in some unit. */
function tellsUnit(value: number, text: string): boolean {
  return value > 0 && !codeLike.test(text);
}

/** Share of the rows with a measure whose value fits the unit. */
function shareFitting(unit: Unit, cells: Cells, numbers: Float64Array): number {
  let fitting = 0;
  let all = 0;
  numbers.forEach((value, index) => {
    if (!tellsUnit(value, cells.values[index] ?? "")) return;
    const rows = cells.counts[index] ?? 0;
    all += rows;
    if (fits(unit, value)) fitting += rows;
  });
  return all === 0 ? 0 : fitting / all;
}

/** The unit: the one stated, unless most values fit another; else the one that most values fit. */
function settleUnit(
  role: MeasureRole,
  spec: RoleSpec,
  cells: Cells,
  numbers: Float64Array,
): { readonly unit: Unit | null; readonly problem: InputProblem | null } {
  const units = unitsOf[role];
  const shares = units.map((unit) => shareFitting(unit, cells, numbers));
  const most = units.find((_, i) => (shares[i] ?? 0) > 0.5) ?? null;
  const stated = units.find((unit) => unit.id === spec.unit) ?? null;
  if (stated !== null) {
    if (most === null || most === stated) return { unit: stated, problem: null };
    const details = { role, stated: stated.id, found: most.id, share: shares[units.indexOf(most)] ?? 0 };
    return { unit: stated, problem: inputProblem("unit-contradicted", cells.file, { column: cells.name, details }) };
  }
  if (most !== null) return { unit: most, problem: null };
  // A column without a single measure says nothing about its unit and does not need one.
  const silent = !numbers.some((value, index) => tellsUnit(value, cells.values[index] ?? ""));
  if (silent) return { unit: units[0] ?? null, problem: null };
  const details = { role, options: units.map((unit) => unit.id) };
  return { unit: null, problem: inputProblem("unit-unclear", cells.file, { column: cells.name, details }) };
}

/** Problems of single values, given the column's unit. */
function valueProblems(role: MeasureRole, cells: Cells, numbers: Float64Array, unit: Unit): InputProblem[] {
  const problems: InputProblem[] = [];
  numbers.forEach((value, index) => {
    if (Number.isNaN(value) || fits(unit, value)) return;
    const other = unitsOf[role].find((candidate) => candidate !== unit && fits(candidate, value));
    if (codeLike.test(cells.values[index] ?? ""))
      problems.push(cellProblem("missing-code-likely", cells, index, { role }));
    else if (value === 0) problems.push(cellProblem("zero-measure", cells, index, { role }));
    else if (value < 0) problems.push(cellProblem("negative-measure", cells, index, { role }));
    else if (other !== undefined) {
      problems.push(cellProblem("units-mixed", cells, index, { role, usual: unit.id, found: other.id }));
    }
  });
  return problems;
}

/** A number that groups thousands, or has three decimals: 1,234. No measure of a child has six digits: 150.358 is a decimal. */
const grouped = /^[1-9]\d?[.,]\d{3}$/;
/** Own rule: a number of three digits without a sign beside them is no measure a thousand times as large. */
const hundreds = /^[1-9]\d{2}$/;

/** Numbers such as 1,234 beside 950: where all with a sign have three digits behind it, it may part thousands. */
function thousandsProblems(cells: Cells, numbers: Float64Array): InputProblem[] {
  const signed = [...cells.values.keys()].filter(
    (index) => !Number.isNaN(numbers[index]) && /[.,]/.test(cells.values[index] ?? ""),
  );
  if (signed.length === 0 || !signed.every((index) => grouped.test(cells.values[index] ?? ""))) return [];
  const plainIndex = cells.values.findIndex((text, index) => !Number.isNaN(numbers[index]) && hundreds.test(text));
  if (plainIndex < 0) return [];
  const example = cells.values[signed[0] ?? 0] ?? "";
  return [cellProblem("thousands-unclear", cells, plainIndex, { example })];
}

/** Power of ten of the last digit that a number needs: -1 for 9.5, 2 for 9500. */
function lastDigit(value: number): number {
  const text = value.toFixed(6);
  const fraction = text.slice(text.indexOf(".") + 1).replace(/0+$/, "");
  if (fraction !== "") return -fraction.length;
  return value === 0 ? 6 : (/0*$/.exec(text.slice(0, text.indexOf(".")))?.[0].length ?? 0);
}

/**
 * The smallest step a column was written in, in the standard unit: the finest power of ten that at least one value in a
 * hundred needs, never coarser than one standard unit (whole kilograms, centimetres or millimetres).
 */
function stepOf(cells: Cells, numbers: Float64Array, unit: Unit): number {
  const rowsByDigit = new Map<number, number>();
  let all = 0;
  numbers.forEach((value, index) => {
    if (Number.isNaN(value)) return;
    const rows = cells.counts[index] ?? 0;
    const digit = lastDigit(value);
    rowsByDigit.set(digit, (rowsByDigit.get(digit) ?? 0) + rows);
    all += rows;
  });
  let needing = 0;
  for (const digit of [...rowsByDigit.keys()].sort((a, b) => a - b)) {
    needing += rowsByDigit.get(digit) ?? 0;
    if (needing >= all / 100) return Math.min(1, Number((10 ** digit * (unit.times / unit.over)).toPrecision(6)));
  }
  return 1;
}

/**
 * Reads a measured column: numbers, decimal sign, unit, missing codes, step. Few values outside what is
 * possible are set aside; otherwise every cell that cannot stand as it is is a problem.
 */
export function readMeasure(role: MeasureRole, cells: Cells, spec: RoleSpec): ReadMeasure {
  const missing = missingTexts(cells, spec.missing);
  const { numbers, problems, decimal } = readNumbers(cells, missing, spec.decimal);
  const { unit, problem } = settleUnit(role, spec, cells, numbers);
  const settled = problem === null ? unit : null;
  const { inside, outside } = partOff(cells, numbers, (value) => settled !== null && !fits(settled, value));
  const found = settled === null ? [] : valueProblems(role, cells, inside, settled);
  if (spec.decimal === undefined) found.push(...thousandsProblems(cells, numbers));
  const rowsOf = (own: Float64Array): Float64Array =>
    spreadNumbers(
      cells,
      own.map((value) => (unit === null ? value : toStandard(unit, value))),
    );
  return {
    cells,
    inside,
    column: {
      name: cells.name,
      values: rowsOf(inside),
      step: unit === null ? 1 : stepOf(cells, inside, unit),
      missing: countMissing(cells, missing),
      ...(outside === null ? {} : { setAside: rowsOf(outside) }),
    },
    unit,
    missing,
    decimal,
    problems: [...problems, ...(problem === null ? [] : [problem]), ...found],
  };
}
