import { type Note, note } from "../settings/notes.js";
import type { Role } from "../settings/roles.js";
import { daysPerMonth } from "./age-column.js";
import { isFew, mostMonthsOfChild } from "./possible.js";
import { type ReadColumns, visitDates } from "./read-columns.js";
import type { MeasureColumn, Survey } from "./survey.js";
import { fits, type Unit, unitsOf } from "./units.js";

const mostDays = mostMonthsOfChild * daysPerMonth;

const standard = (role: "weight" | "height"): Unit => unitsOf[role][0] as Unit;

/**
 * Rows in which weight and height stand in each other's place: more kilograms than centimetres, which no child has, and
 * each number can be the other measure. One of the two may be within its own range: a height of 55 is also a weight.
 */
function exchangedRows(weight: MeasureColumn, height: MeasureColumn): number[] {
  const rows: number[] = [];
  for (let row = 0; row < weight.values.length; row++) {
    const kilograms = writtenAt(weight, row);
    const centimetres = writtenAt(height, row);
    if (!(kilograms > centimetres)) continue;
    if (fits(standard("weight"), centimetres) && fits(standard("height"), kilograms)) rows.push(row);
  }
  return rows;
}

function writtenAt({ values, setAside }: MeasureColumn, row: number): number {
  const value = values[row] as number;
  return Number.isNaN(value) ? (setAside?.[row] ?? Number.NaN) : value;
}

/** Moves the values of these rows from what is measured to what is set aside. */
function withoutRows(column: MeasureColumn, rows: readonly number[]): MeasureColumn {
  const values = column.values.slice();
  const setAside = column.setAside?.slice() ?? new Float64Array(values.length).fill(Number.NaN);
  for (const row of rows) {
    setAside[row] = writtenAt(column, row);
    values[row] = Number.NaN;
  }
  return { ...column, values, setAside };
}

/** How many numbers a column holds. */
export const filledIn = (values: Float64Array): number =>
  values.reduce((sum, value) => sum + (Number.isNaN(value) ? 0 : 1), 0);

/** Whether a column's values outside what is possible stay few with these rows among them. */
function staysFew(column: MeasureColumn, rows: readonly number[]): boolean {
  const { values, setAside } = column;
  const measured = filledIn(values);
  const before = setAside == null ? 0 : filledIn(setAside);
  const more = rows.filter((row) => !Number.isNaN(values[row] as number)).length;
  return isFew(before + more, measured + before);
}

/** Sets aside weight and height of the rows in which they are exchanged, where those are few. */
function setAsideExchanged(columns: ReadColumns): ReadColumns {
  const weight = columns.measures.get("weight");
  const height = columns.measures.get("height");
  if (weight === undefined || height === undefined || weight.unit === null || height.unit === null) return columns;
  const rows = exchangedRows(weight.column, height.column);
  if (rows.length === 0 || ![weight, height].every(({ column }) => staysFew(column, rows))) return columns;
  const measures = new Map(columns.measures);
  measures.set("weight", { ...weight, column: withoutRows(weight.column, rows) });
  measures.set("height", { ...height, column: withoutRows(height.column, rows) });
  return { ...columns, measures };
}

/** Sets aside dates of birth after the interview, or so long before it that nobody would be a child, where they are few. */
function setAsideBirths(columns: ReadColumns): ReadColumns {
  const birth = columns.dates.get("birth-date");
  const interview = visitDates(columns);
  if (birth === undefined || interview === undefined) return columns;
  const ages = birth.days.map((day, row) => (interview.days[row] as number) - day);
  const impossible = ages.map((days) => (days < 0 || days >= mostDays ? 1 : 0));
  const count = impossible.reduce((sum, one) => sum + one, 0);
  if (count === 0 || !isFew(count, filledIn(ages))) return columns;
  const dates = new Map(columns.dates);
  dates.set("birth-date", {
    ...birth,
    days: birth.days.map((day, row) => (impossible[row] === 1 ? Number.NaN : day)),
    setAside: birth.days.map((day, row) => (impossible[row] === 1 ? day : Number.NaN)),
  });
  return { ...columns, dates };
}

/** Sets aside what only two columns together show to be impossible. The cells of single columns were set aside as they were read. */
export function setAsideTogether(columns: ReadColumns): ReadColumns {
  return setAsideBirths(setAsideExchanged(columns));
}

/** What was set aside of the ages; null where nothing was. */
export function agesSetAside(columns: ReadColumns): NonNullable<Survey["ageSetAside"]> | null {
  const birthDay = columns.dates.get("birth-date")?.setAside ?? null;
  const ageMonths = columns.ageMonths?.setAside ?? null;
  return birthDay === null && ageMonths === null ? null : { birthDay, ageMonths };
}

/** Says how many cells of each column were set aside. */
export function setAsideNotes(columns: ReadColumns): Note[] {
  const counted: [Role, Float64Array | null | undefined][] = [
    ["birth-date", columns.dates.get("birth-date")?.setAside],
    ["age-months", columns.ageMonths?.setAside],
    ...[...columns.measures].map(([role, { column }]): [Role, typeof column.setAside] => [role, column.setAside]),
  ];
  return counted.flatMap(([role, setAside]) =>
    setAside == null ? [] : [note("set-aside", { role, count: filledIn(setAside) })],
  );
}

/** One column as it is written: what was set aside in its place again. */
function restored(values: Float64Array | null, setAside: Float64Array | null | undefined): Float64Array | null {
  if (values === null || setAside == null) return values;
  return values.map((value, row) => (Number.isNaN(value) ? (setAside[row] as number) : value));
}

function restoredMeasure(column: MeasureColumn | null): MeasureColumn | null {
  return column === null ? null : { ...column, values: restored(column.values, column.setAside) ?? column.values };
}

/** The survey with every value as the file has it, also those that are set aside: to look for a slip in them, not to compute. */
export function asWritten(survey: Survey): Survey {
  return {
    ...survey,
    birthDay: restored(survey.birthDay, survey.ageSetAside?.birthDay),
    ageMonths: restored(survey.ageMonths, survey.ageSetAside?.ageMonths),
    weight: restoredMeasure(survey.weight),
    height: restoredMeasure(survey.height),
    arm: restoredMeasure(survey.arm),
    head: restoredMeasure(survey.head),
  };
}
