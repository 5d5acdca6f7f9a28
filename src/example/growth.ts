import { growthTable } from "../derive/growth-standards/growth-table.js";
import { lookUp } from "../derive/growth-standards/look-up.js";
import { heightFromDays } from "../derive/position.js";
import { valueAtZ } from "../derive/z-score.js";

/** Whether the growth standard wants this child lying (length) and not standing (height). */
export function isLengthAge(ageDays: number): boolean {
  return ageDays < heightFromDays;
}

/** Length (under 731 days) or height (from there) in cm of a child at a height-for-age z-score. */
export function standardHeightAt(sex: 1 | 2, ageDays: number, z: number): number {
  const parameters = lookUp(growthTable("length-height-for-age"), sex, ageDays);
  if (parameters === null) return Number.NaN;
  return valueAtZ(z, parameters.l, parameters.m, parameters.s, false);
}

/**
 * Weight in kg of a child at a weight-for-height z-score. A length or height off the end of its table borrows the
 * table's end row, its weight scaled by the cube of the length; the tool under test gives such a child no z-score.
 */
export function weightAt(sex: 1 | 2, ageDays: number, standardHeight: number, z: number): number {
  const table = growthTable(isLengthAge(ageDays) ? "weight-for-length" : "weight-for-height");
  const last = table.firstKey + (table.rows - 1) / table.rowsPerUnit;
  const nearest = Math.min(last, Math.max(table.firstKey, standardHeight));
  const parameters = lookUp(table, sex, nearest);
  if (parameters === null) return Number.NaN;
  return valueAtZ(z, parameters.l, parameters.m, parameters.s, true) * (standardHeight / nearest) ** 3;
}

/** Arm circumference in mm of a child at an arm-for-age z-score; NaN under 91 days, where the standard does not go. */
export function armAt(sex: 1 | 2, ageDays: number, z: number): number {
  const parameters = lookUp(growthTable("arm-circumference-for-age"), sex, ageDays);
  if (parameters === null) return Number.NaN;
  return valueAtZ(z, parameters.l, parameters.m, parameters.s, true) * 10;
}
