import type { TextColumn, TextTable } from "../read/table.js";
import { type Note, note } from "../settings/notes.js";
import { cellsOf } from "./cells.js";
import { missingTexts } from "./missing.js";

function keptRows(codes: Uint32Array, kept: readonly number[]): Uint32Array {
  return Uint32Array.from(kept, (row) => codes[row] ?? 0);
}

function columnOf(column: TextColumn, kept: readonly number[]): TextColumn {
  const codes = keptRows(column.codes, kept);
  if (column.from === undefined) return { ...column, codes };
  return { ...column, codes, from: { ...column.from, sheetRow: keptRows(column.from.sheetRow, kept) } };
}

/**
 * The table without rows in which none of the columns that are read is filled, and how many those were: lines of a form that were
 * numbered or ruled beforehand and never used are no children. A table of nothing else is left as it is.
 */
export function withoutEmptyRows(
  table: TextTable,
  read: readonly string[],
): { readonly table: TextTable; readonly notes: readonly Note[] } {
  const filled = new Uint8Array(table.rowCount);
  for (const cells of read.flatMap((name) => cellsOf(table, name) ?? [])) {
    const missing = missingTexts(cells, []);
    cells.codes.forEach((code, row) => {
      if (missing[code] !== 1) filled[row] = 1;
    });
  }
  if (!filled.includes(0) || !filled.includes(1)) return { table, notes: [] };
  const kept = [...filled.keys()].filter((row) => filled[row] === 1);
  const count = table.rowCount - kept.length;
  const columns = table.columns.map((column) => columnOf(column, kept));
  const sheetRow = keptRows(table.sheetRow, kept);
  return { table: { ...table, columns, sheetRow, rowCount: kept.length }, notes: [note("rows-empty", { count })] };
}
