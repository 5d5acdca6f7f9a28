import type { GrowthTable } from "./growth-table.js";

/** L, M and S at one key. */
export interface Lms {
  readonly l: number;
  readonly m: number;
  readonly s: number;
}

/** Keys closer than this to a row, in rows, are that row: 65.1 cm is row 0.9999999999999432 in double precision. */
const rowTolerance = 1e-7;

/**
 * Where a key stands in a table, in rows and parts of a row from 0; NaN outside the table (which includes its end
 * points) or where the key is NaN. Between the last day of length and the first of height there is nothing to read:
 * the nearer of the two days is taken (half a day, 24 months exactly, is height).
 */
export function rowOf(table: GrowthTable, key: number): number {
  let row = (key - table.firstKey) * table.rowsPerUnit;
  const nearest = Math.round(row);
  if (Math.abs(row - nearest) < rowTolerance) row = nearest;
  if (!(row >= 0 && row <= table.rows - 1)) return Number.NaN;
  const change = table.lastLengthRow;
  return row > change && row < change + 1 && change >= 0 ? nearest : row;
}

/** The value at a row or, linearly, between two. The row must lie inside the table. */
export function interpolate(values: Float64Array, row: number): number {
  const below = Math.floor(row);
  const lower = values[below] as number;
  return row === below ? lower : lower + (row - below) * ((values[below + 1] as number) - lower);
}

/** L, M and S of a sex (1 male, 2 female) at a key, interpolated linearly between rows; null outside the table. */
export function lookUp(table: GrowthTable, sex: 1 | 2, key: number): Lms | null {
  const row = rowOf(table, key);
  if (Number.isNaN(row)) return null;
  const { l, m, s } = sex === 1 ? table.male : table.female;
  return { l: interpolate(l, row), m: interpolate(m, row), s: interpolate(s, row) };
}
