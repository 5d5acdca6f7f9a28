import type { DateOrder } from "../settings/roles.js";
import { asciiDigits } from "./numbers.js";

/**
 * What a text says about a day. 'day' is a date with one reading (days since 1970-01-01); 'parts' are three numbers whose
 * order the column has to settle; 'impossible' has the form of a date but names no day; null is no date at all.
 */
export type DateText =
  | { readonly kind: "day"; readonly day: number; readonly serial: boolean }
  | { readonly kind: "parts"; readonly first: number; readonly second: number; readonly third: number }
  | { readonly kind: "impossible" };

/** A time of day behind a date, which is passed over: 10:15, T10:15:00.000+03:00, 10:15 PM. */
const time =
  "(?:(?:[T,]|,? )\\s*\\d{1,2}:\\d{2}(?::\\d{2}(?:[.,]\\d+)?)?\\s*(?:[ap]\\.?m\\.?)?\\s*(?:Z|UTC|[+-]\\d{2}:?\\d{0,2})?)?";
const yearFirst = new RegExp(`^(\\d{4})([-/.])(\\d{1,2})\\2(\\d{1,2})${time}$`, "i");
const yearLast = new RegExp(`^(\\d{1,2})([-/. ])(\\d{1,2})\\2(\\d{2}|\\d{4})${time}$`, "i");
const dayName = new RegExp(
  `^(\\d{1,2})(?:st|nd|rd|th|er|[ºo])?[-/., ]+(?:de |of )?([\\p{L}]{3,})\\.?[-/., ]+(?:de |del |of )?(\\d{2}|\\d{4})${time}$`,
  "iu",
);
const nameDay = new RegExp(
  `^([\\p{L}]{3,})\\.?[-/., ]+(\\d{1,2})(?:st|nd|rd|th)?[-/., ]+(\\d{2}|\\d{4})${time}$`,
  "iu",
);
const serial = /^(\d{5})(?:[.,]\d+)?$/;

/** Month names in English, French, Spanish and Portuguese, without accents; a month is the entry that a name starts with. */
const monthNames: readonly (readonly string[])[] = [
  ["jan", "ene"],
  ["feb", "fev"],
  ["mar"],
  ["apr", "avr", "abr"],
  ["may", "mai"],
  ["jun", "juin"],
  ["jul", "juil"],
  ["aug", "aou", "ago"],
  ["sep", "set"],
  ["oct", "out"],
  ["nov"],
  ["dec", "dez", "dic"],
];

function monthOf(name: string): number {
  const bare = name.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  return monthNames.findIndex((starts) => starts.some((start) => bare.startsWith(start))) + 1;
}

/** Two-digit years are taken between 1970 and 2069: a survey of children under five cannot be older. */
function fullYear(year: number): number {
  if (year >= 100) return year;
  return year >= 70 ? 1900 + year : 2000 + year;
}

/** Days since 1970-01-01 of a calendar day, or NaN if there is none such; years before 1950 or after 2100 are none. */
export function dayNumber(year: number, month: number, day: number): number {
  const full = fullYear(year);
  if (full < 1950 || full > 2100 || month < 1 || month > 12 || day < 1) return Number.NaN;
  const date = new Date(Date.UTC(full, month - 1, day));
  return date.getUTCMonth() === month - 1 && date.getUTCDate() === day ? date.getTime() / 86_400_000 : Number.NaN;
}

/** A day as year-month-day. */
export function isoDay(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}

function single(day: number): DateText {
  return Number.isNaN(day) ? { kind: "impossible" } : { kind: "day", day, serial: false };
}

/** Reads one text as a date. Digits may be those of Arabic or Persian script. */
export function parseDate(written: string): DateText | null {
  const text = asciiDigits(written);
  const iso = yearFirst.exec(text);
  if (iso !== null) return single(dayNumber(Number(iso[1]), Number(iso[3]), Number(iso[4])));
  const parts = yearLast.exec(text);
  if (parts !== null) {
    return { kind: "parts", first: Number(parts[1]), second: Number(parts[3]), third: Number(parts[4]) };
  }
  const number = serial.exec(text);
  if (number !== null) {
    // Spreadsheets count days from 1899-12-30 (the 1900 date system): 25569 is 1970-01-01. From memory of the file format.
    return { kind: "day", day: Number(number[1]) - 25_569, serial: true };
  }
  const named = dayName.exec(text);
  if (named !== null) return fromName(named[2] ?? "", Number(named[1]), Number(named[3]));
  const american = nameDay.exec(text);
  return american === null ? null : fromName(american[1] ?? "", Number(american[2]), Number(american[3]));
}

function fromName(name: string, day: number, year: number): DateText | null {
  const month = monthOf(name);
  return month === 0 ? null : single(dayNumber(year, month, day));
}

const clock = /[T, ]\s*(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?\s*([ap]\.?m\.?)?/i;

/** The time of day that stands behind a date, as a share of the day, as it is written there whatever its zone; NaN for none. */
export function timeOfDay(written: string): number {
  const text = asciiDigits(written);
  if (serial.test(text)) {
    const fraction = Number(text.replace(",", ".")) % 1;
    return fraction > 0 ? fraction : Number.NaN;
  }
  const [found, hours = "", minutes = "", seconds = "0", half = ""] = clock.exec(text) ?? [];
  if (found === undefined) return Number.NaN;
  const noon = /^p/i.test(half) ? 12 : 0;
  const hour = half === "" ? Number(hours) : (Number(hours) % 12) + noon;
  const time = (hour * 3600 + Number(minutes) * 60 + Number(seconds.replace(",", "."))) / 86_400;
  return time < 1 ? time : Number.NaN;
}

/** The day of three numbers read in a given order; NaN if there is none. */
export function dayInOrder(parts: { first: number; second: number; third: number }, order: DateOrder): number {
  const { first, second, third } = parts;
  if (order === "day-month-year") return dayNumber(third, second, first);
  return order === "month-day-year" ? dayNumber(third, first, second) : dayNumber(first, second, third);
}
