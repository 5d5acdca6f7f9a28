import { type InputProblem, inputProblem } from "../settings/problems.js";
import { type AgeUnit, ageUnits, type RoleSpec } from "../settings/roles.js";
import { type Cells, cellProblem, spreadNumbers } from "./cells.js";
import { missingTexts } from "./missing.js";
import { readNumbers } from "./numbers.js";
import { isFew, mostMonthsOfChild, partOff } from "./possible.js";
import { dayWords, monthWords } from "./role-names.js";
import { speaksOf } from "./words.js";

/** A column of ages, understood. */
export interface ReadAge {
  readonly cells: Cells;
  /** Months for every row; NaN where missing. */
  readonly values: Float64Array;
  /** For each distinct text, 1 where it stands for a missing value. */
  readonly missing: Uint8Array;
  /** Months outside what is possible, as written; NaN elsewhere. Absent where there are none. */
  readonly setAside?: Float64Array;
  /** Null where it could not be settled. */
  readonly unit: AgeUnit | null;
  readonly problems: readonly InputProblem[];
}

/** Mean length of a month, 365.25 / 12 days, as the WHO Child Growth Standards count months (2006). */
export const daysPerMonth = 30.4375;

/** Rows below which ages of six or less may well be months. */
const fewAges = 10;
/** No child under five has more months; a little is left for those just beyond. */
const mostMonths = 72;
/** Nor more years. */
const mostYears = 6;

/**
 * The unit: as stated, else as the values say (more than half beyond 72 can only be days), unless the name says otherwise:
 * then it is open. Few children of a survey of under-fives are younger than 72 days, so that a name that speaks of days
 * with values that do not is open too.
 */
function unitOf(cells: Cells, stated: string | undefined, beyond: number, rows: number): AgeUnit | null {
  const given = ageUnits.find((unit) => unit === stated);
  if (given !== undefined) return given;
  const byValues: AgeUnit = beyond * 2 > rows ? "days" : "months";
  const saysDays = speaksOf(cells.name, dayWords);
  const saysMonths = speaksOf(cells.name, monthWords);
  if (rows < fewAges && (saysDays || saysMonths)) return saysDays ? "days" : "months";
  if (byValues === "days") return saysMonths ? null : "days";
  return saysDays ? null : "months";
}

/** Days as months; a whole number of months would be read as completed months and not as the exact age that it is. */
function monthsFromDays(days: number): number {
  const months = days / daysPerMonth;
  return Number.isInteger(months) ? months + 1e-9 : months;
}

/** Ages below nought, a unit that is open, and ages that look like years in a survey that is not of the very young. */
function ageProblems(cells: Cells, ages: Float64Array, unit: AgeUnit | null, oldest: number): InputProblem[] {
  const found: InputProblem[] = [];
  let highest = 0;
  let rows = 0;
  let beyondYears = 0;
  ages.forEach((value, index) => {
    if (Number.isNaN(value)) return;
    if (value < 0) found.push(cellProblem("negative-age", cells, index));
    highest = Math.max(highest, value);
    rows += cells.counts[index] ?? 0;
    if (value > mostYears) beyondYears += cells.counts[index] ?? 0;
  });
  if (unit === null) {
    const details = { role: "age-months", options: [...ageUnits] };
    found.push(inputProblem("unit-unclear", cells.file, { column: cells.name, details }));
  } else if (unit === "months" && oldest > mostYears && rows >= fewAges && isFew(beyondYears, rows)) {
    found.push(inputProblem("age-in-years", cells.file, { column: cells.name, details: { highest } }));
  }
  return found;
}

/** Reads a column of ages. Few ages that no child has are set aside. Ages that look like years are put to the user unless the survey is of the very young. */
export function readAge(cells: Cells, spec: RoleSpec, oldest: number): ReadAge {
  const missing = missingTexts(cells, spec.missing);
  const { numbers, problems } = readNumbers(cells, missing, spec.decimal);
  let rows = 0;
  let beyond = 0;
  numbers.forEach((value, index) => {
    if (Number.isNaN(value)) return;
    const count = cells.counts[index] ?? 0;
    rows += count;
    if (value > mostMonths) beyond += count;
  });
  const unit = unitOf(cells, spec.unit, beyond, rows);
  const most = unit === "days" ? mostMonthsOfChild * daysPerMonth : mostMonthsOfChild;
  const { inside, outside } = partOff(cells, numbers, (value) => value < 0 || value >= most);
  const monthsOf = (own: Float64Array): Float64Array =>
    spreadNumbers(cells, unit === "days" ? own.map(monthsFromDays) : own);
  const found = [...problems, ...ageProblems(cells, inside, unit, oldest)];
  return {
    cells,
    values: monthsOf(inside),
    ...(outside === null ? {} : { setAside: monthsOf(outside) }),
    missing,
    unit,
    problems: found,
  };
}
