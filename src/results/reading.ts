import type { CheckResult, Reading } from "./schema.js";

/** The most serious reading has the largest number: for sorting only, never added up. */
export const severity: Readonly<Record<Reading, number>> = { doubt: 3, explain: 2, unknown: 1, expected: 0 };

/** A finding: a reading that needs explaining or casts doubt. */
export const isConcern = (reading: string): boolean => reading === "doubt" || reading === "explain";

/** True for a check that somebody should follow up: it found something, or lists entries of the file to look at again. */
export const asksFollowUp = ({ reading, rowsToCheck }: Pick<CheckResult, "reading" | "rowsToCheck">): boolean =>
  isConcern(reading) || rowsToCheck > 0;
