import { type InputProblem, inputProblem } from "../settings/problems.js";
import type { DateRole } from "../settings/roles.js";
import type { Cells } from "./cells.js";
import { parseDate } from "./dates.js";
import { asciiDigits } from "./numbers.js";

/** Own rule: different dates of each form below which their days say nothing: a survey's own days are often fewer. */
const fewestDates = 10;

const yearFirst = /^\d{4}([-/.])(\d{1,2})\1(\d{1,2})(.*)$/s;
const yearLast = /^(\d{1,2})([-/. ])(\d{1,2})\2\d{2,4}(.*)$/s;

interface Written {
  /** Order, sign between the parts, and whether a time stands behind. */
  readonly form: string;
  /** Whether one-digit numbers have a nought before them; 'unknown' for the likes of 27/10/2020. */
  readonly noughts: "with" | "without" | "unknown";
  /** Whether day and month could be read the other way round. */
  readonly exchangeable: boolean;
}

/** How a date of three numbers is written; null for a text of another form. */
function writtenAs(cell: string): Written | null {
  const text = asciiDigits(cell);
  const iso = yearFirst.exec(text);
  const last = yearLast.exec(text);
  const [one, other] = iso === null ? [last?.[1], last?.[3]] : [iso[2], iso[3]];
  if (one === undefined || other === undefined) return null;
  const timed = ((iso ?? last)?.[4] ?? "").trim() === "" ? "" : " time";
  const form = iso === null ? `year last ${last?.[2]}${timed}` : `year first ${iso[1]}${timed}`;
  const parts = [one, other];
  const isWith = parts.some((part) => part.startsWith("0"));
  const isWithout = parts.some((part) => part.length === 1);
  const noughts = isWith === isWithout ? "unknown" : isWith ? "with" : "without";
  return { form, noughts, exchangeable: parts.every((part) => Number(part) <= 12) };
}

/** Rows of a way of writing. */
interface Counted {
  either: number;
  decided: number;
  dates: number;
  readonly first: number;
}

/** The ways of writing, with the rows whose day and month can and cannot be exchanged. Noughts part them where both kinds are met. */
function countedForms(cells: Cells, missing: Uint8Array): Counted[] {
  const byForm = new Map<string, Map<Written["noughts"], Counted>>();
  cells.values.forEach((text, index) => {
    const written = missing[index] === 1 || parseDate(text) === null ? null : writtenAs(text);
    if (written === null) return;
    const own = byForm.get(written.form) ?? new Map<Written["noughts"], Counted>();
    const counted = own.get(written.noughts) ?? { either: 0, decided: 0, dates: 0, first: index };
    counted[written.exchangeable ? "either" : "decided"] += cells.counts[index] ?? 0;
    counted.dates += 1;
    byForm.set(written.form, own.set(written.noughts, counted));
  });
  return [...byForm.values()].flatMap((own) => {
    const [padded, bare] = [own.get("with"), own.get("without")];
    if (padded !== undefined && bare !== undefined) return [padded, bare];
    const all = [...own.values()];
    const sum = (what: "either" | "decided" | "dates"): number => all.reduce((total, one) => total + one[what], 0);
    const [either, decided, dates] = [sum("either"), sum("decided"), sum("dates")];
    return [{ either, decided, dates, first: Math.min(...all.map(({ first }) => first)) }];
  });
}

/**
 * Dates of which a spreadsheet has taken those it could for dates of its own, with day and month exchanged: then one way of
 * writing holds only days up to 12, and another, left as text, only days above. By chance, 10 dates of each kind
 * divide so about once in 10 million times.
 */
export function halfConverted(role: DateRole, cells: Cells, missing: Uint8Array): InputProblem[] {
  const all = countedForms(cells, missing);
  const converted = all.filter(({ dates, decided }) => dates >= fewestDates && decided === 0);
  const left = all.filter(({ either, dates }) => dates >= fewestDates && either === 0);
  const [one, other] = [converted[0], left[0]];
  if (one === undefined || other === undefined) return [];
  const details = {
    role,
    converted: converted.reduce((sum, { either }) => sum + either, 0),
    left: left.reduce((sum, { decided }) => sum + decided, 0),
    example: cells.values[one.first] ?? "",
    otherExample: cells.values[other.first] ?? "",
  };
  return [inputProblem("dates-half-converted", cells.file, { column: cells.name, details })];
}
