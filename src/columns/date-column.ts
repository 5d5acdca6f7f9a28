import type { InputProblem } from "../settings/problems.js";
import type { DateOrder, DateRole, RoleSpec } from "../settings/roles.js";
import { type Cells, cellProblem, spreadNumbers } from "./cells.js";
import { type DateText, dayInOrder, isoDay, parseDate } from "./dates.js";
import { halfConverted } from "./half-converted.js";
import { missingTexts } from "./missing.js";

/** A column of dates, understood. */
export interface ReadDates {
  readonly cells: Cells;
  /** Days since 1970-01-01 for every row; NaN where missing. */
  readonly days: Float64Array;
  /** Days outside what is possible, as written; NaN elsewhere. Absent where there are none. */
  readonly setAside?: Float64Array;
  /** For each distinct text, 1 where it stands for a missing value. */
  readonly missing: Uint8Array;
  /** The order settled for dates written as three numbers with the year last; null when there are none. */
  readonly order: DateOrder | null;
  /** True when the order came from the column and not from the settings. */
  readonly orderFound: boolean;
  /** True when the dates are a spreadsheet's day counts. */
  readonly serial: boolean;
  readonly problems: readonly InputProblem[];
}

type Parts = Extract<DateText, { kind: "parts" }>;

/** Rows whose numbers can only be read day first, only month first, or both ways with different days. */
function evidence(cells: Cells, texts: readonly (DateText | null)[]) {
  const rows = { dayFirst: 0, monthFirst: 0, either: 0 };
  let undecided = -1;
  texts.forEach((text, index) => {
    if (text?.kind !== "parts") return;
    const count = cells.counts[index] ?? 0;
    const dayFirst = !Number.isNaN(dayInOrder(text, "day-month-year"));
    const monthFirst = !Number.isNaN(dayInOrder(text, "month-day-year"));
    if (dayFirst && monthFirst && text.first !== text.second) {
      rows.either += count;
      if (undecided < 0) undecided = index;
    } else if (dayFirst && !monthFirst) rows.dayFirst += count;
    else if (monthFirst && !dayFirst) rows.monthFirst += count;
  });
  return { ...rows, undecided };
}

function settleOrder(
  role: DateRole,
  spec: RoleSpec,
  cells: Cells,
  texts: readonly (DateText | null)[],
): { readonly order: DateOrder | null; readonly problem: InputProblem | null } {
  if (!texts.some((text) => text?.kind === "parts")) return { order: null, problem: null };
  if (spec.dateOrder !== undefined) return { order: spec.dateOrder, problem: null };
  const found = evidence(cells, texts);
  if (found.dayFirst > 0 || found.monthFirst > 0) {
    return { order: found.monthFirst > found.dayFirst ? "month-day-year" : "day-month-year", problem: null };
  }
  if (found.undecided < 0) return { order: "day-month-year", problem: null };
  const parts = texts[found.undecided] as Parts;
  const problem = cellProblem("date-order-unclear", cells, found.undecided, {
    role,
    dayFirst: isoDay(dayInOrder(parts, "day-month-year")),
    monthFirst: isoDay(dayInOrder(parts, "month-day-year")),
  });
  return { order: null, problem: { ...problem, count: found.either } };
}

/** The day of one distinct text, or the problem with it. */
function settleDay(
  text: DateText | null,
  order: DateOrder | null,
  role: DateRole,
  cells: Cells,
  index: number,
): number | InputProblem {
  if (text === null) return cellProblem("not-a-date", cells, index, { role });
  if (text.kind === "day") return text.day;
  if (text.kind === "impossible") return cellProblem("impossible-date", cells, index, { role });
  if (order === null) return Number.NaN;
  const day = dayInOrder(text, order);
  if (!Number.isNaN(day)) return day;
  const other = order === "month-day-year" ? "day-month-year" : "month-day-year";
  const otherwise = !Number.isNaN(dayInOrder(text, other));
  return cellProblem(otherwise ? "date-order-mixed" : "impossible-date", cells, index, { role, order });
}

/** Day counts of a spreadsheet beside written dates: a sign that a spreadsheet turned some dates round and not others. */
function mixedForms(role: DateRole, cells: Cells, texts: readonly (DateText | null)[]): InputProblem[] {
  const rows = { serial: 0, written: 0 };
  const isSerial = (text: DateText | null): boolean => text?.kind === "day" && text.serial;
  texts.forEach((text, index) => {
    if (text !== null) rows[isSerial(text) ? "serial" : "written"] += cells.counts[index] ?? 0;
  });
  if (rows.serial === 0 || rows.written === 0) return [];
  const rare = rows.serial <= rows.written;
  return texts.flatMap((text, index) =>
    text !== null && isSerial(text) === rare ? [cellProblem("date-forms-mixed", cells, index, { role, ...rows })] : [],
  );
}

/**
 * Reads a column of dates. The order of day and month is one for the whole column: settled by the settings, else by the
 * cells that can be read in one way only; where no cell decides, the two readings are put to the user.
 */
export function readDates(role: DateRole, cells: Cells, spec: RoleSpec): ReadDates {
  const missing = missingTexts(cells, spec.missing);
  const texts = cells.values.map((value, index) => (missing[index] === 1 ? null : parseDate(value)));
  const { order, problem } = settleOrder(role, spec, cells, texts);
  const problems: InputProblem[] = problem === null ? [] : [problem];
  problems.push(...mixedForms(role, cells, texts), ...halfConverted(role, cells, missing));
  const byText = cells.values.map((_, index) => {
    if (missing[index] === 1) return Number.NaN;
    const settled = settleDay(texts[index] ?? null, order, role, cells, index);
    if (typeof settled === "number") return settled;
    problems.push(settled);
    return Number.NaN;
  });
  return {
    cells,
    days: spreadNumbers(cells, byText),
    missing,
    order,
    orderFound: order !== null && spec.dateOrder === undefined,
    serial: texts.some((text) => text?.kind === "day" && text.serial),
    problems,
  };
}
