import { placeOf, type TextTable } from "../read/table.js";
import { type Note, note } from "../settings/notes.js";
import { type InputProblem, inputProblem } from "../settings/problems.js";
import { daysPerMonth } from "./age-column.js";
import { type ReadColumns, visitDates } from "./read-columns.js";

/** Months by which an age and a date of birth may differ: an age told from memory is seldom closer. Own rule. */
const mostMonthsApart = 3;
/** From this share of at least so many rows on, one of the two columns cannot be what it is taken for. Own rule. */
const mostShareApart = 0.25;
const fewestRows = 20;

/** Rows whose age in months and dates can be compared, and those in which they are far apart. */
interface Apart {
  readonly both: number;
  readonly apart: number;
}

/** Months between a row's dates and its age as written; a whole number stands for the middle of its month. */
function agesApart(columns: ReadColumns): Apart | null {
  const birth = columns.dates.get("birth-date");
  const visit = visitDates(columns);
  const { ageMonths } = columns;
  if (birth === undefined || visit === undefined || ageMonths === null) return null;
  let [both, apart] = [0, 0];
  ageMonths.values.forEach((months, row) => {
    const dated = ((visit.days[row] ?? Number.NaN) - (birth.days[row] ?? Number.NaN)) / daysPerMonth;
    const written = Number.isInteger(months) ? months + 0.5 : months;
    if (Number.isNaN(dated) || Number.isNaN(written)) return;
    both += 1;
    if (Math.abs(dated - written) > mostMonthsApart) apart += 1;
  });
  return { both, apart };
}

const areContrary = ({ both, apart }: Apart): boolean => both >= fewestRows && apart > mostShareApart * both;

/** Ages and dates of birth that contradict each other in so many rows that one of them belongs to other children, or is no age. */
export function agesContradict(table: TextTable, columns: ReadColumns): InputProblem[] {
  const found = agesApart(columns);
  if (found === null || !areContrary(found)) return [];
  const details = {
    birth: columns.dates.get("birth-date")?.cells.name ?? "",
    months: mostMonthsApart,
    both: found.both,
    apart: found.apart,
  };
  const column = columns.ageMonths?.cells.name ?? "";
  return [inputProblem("ages-contradict", placeOf(table), { column, count: found.apart, details })];
}

/** Says in how many rows the two are far apart, where it is few: the dates are used. */
export function agesApartNotes(columns: ReadColumns): Note[] {
  const found = agesApart(columns);
  if (found === null || found.apart === 0 || areContrary(found)) return [];
  return [note("ages-apart", { count: found.apart, both: found.both, months: mostMonthsApart })];
}
