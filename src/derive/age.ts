import { daysPerMonth } from "../columns/age-column.js";
import type { Survey } from "../columns/survey.js";

export { daysPerMonth } from "../columns/age-column.js";

export interface Ages {
  /** Age in days; NaN unknown. Whole where it comes from two dates. */
  readonly days: Float64Array;
  /** Where a child's age comes from: 0 unknown, 1 two dates, 2 an age in months. */
  readonly source: Uint8Array;
}

/**
 * Age in days from an age written in months: completed months stand for the middle of the month, (m + 0.5) x 30.4375
 * days; exact months are m x 30.4375. A number with a fraction cannot be completed months and is taken as exact.
 */
export function daysFromMonths(months: number, reading: "completed" | "exact"): number {
  const middle = reading === "completed" && Number.isInteger(months) ? 0.5 : 0;
  return (months + middle) * daysPerMonth;
}

/** Ages of all rows: interview day - birth day; where either is missing, the age in months if there is one. */
export function agesOf(survey: Survey): Ages {
  const days = new Float64Array(survey.rowCount).fill(Number.NaN);
  const source = new Uint8Array(survey.rowCount);
  for (let i = 0; i < survey.rowCount; i++) {
    const exact = (survey.interviewDay?.[i] ?? Number.NaN) - (survey.birthDay?.[i] ?? Number.NaN);
    const months = survey.ageMonths?.[i] ?? Number.NaN;
    if (!Number.isNaN(exact)) {
      days[i] = exact;
      source[i] = 1;
    } else if (!Number.isNaN(months)) {
      days[i] = daysFromMonths(months, survey.settings.ageInMonths);
      source[i] = 2;
    }
  }
  return { days, source };
}

/** Whether an age lies in a range of completed months, both ends inclusive: from x 30.4375 <= days < (to + 1) x 30.4375. */
export function withinMonths(days: number, from: number, to: number): boolean {
  return days >= from * daysPerMonth && days < (to + 1) * daysPerMonth;
}
