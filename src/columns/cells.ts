import { placeOf, type TextTable } from "../read/table.js";
import { type InputProblem, inputProblem, type ProblemKind } from "../settings/problems.js";

/** One column as its distinct texts, so that each is understood once, however many rows hold it. */
export interface Cells {
  readonly file: string;
  /** The column's name in the file. */
  readonly name: string;
  /** Distinct texts. */
  readonly values: readonly string[];
  /** For every row, the index into `values`. */
  readonly codes: Uint32Array;
  /** Rows that hold each distinct text. */
  readonly counts: Uint32Array;
  /** Row of the spreadsheet on which each distinct text first stands. */
  readonly firstRow: Uint32Array;
}

const knownColumns = new WeakMap<TextTable, ReadonlyMap<string, TextTable["columns"][number]>>();

/** The columns of a table by their names, put together once: tables of a hundred thousand columns are asked for each of them. */
function columnsByName(table: TextTable): ReadonlyMap<string, TextTable["columns"][number]> {
  const known = knownColumns.get(table);
  if (known !== undefined) return known;
  // The first of one name, as a search from the start would find it.
  const made = new Map([...table.columns].reverse().map((column) => [column.name, column] as const));
  knownColumns.set(table, made);
  return made;
}

/** The cells of a column of the table, or null if there is no such column. */
export function cellsOf(table: TextTable, name: string): Cells | null {
  const column = columnsByName(table).get(name);
  if (column === undefined) return null;
  const sheetRow = column.from?.sheetRow ?? table.sheetRow;
  const counts = new Uint32Array(column.values.length);
  const firstRow = new Uint32Array(column.values.length);
  column.codes.forEach((code, row) => {
    if (counts[code] === 0) firstRow[code] = sheetRow[row] ?? 0;
    counts[code] = (counts[code] ?? 0) + 1;
  });
  const file = column.from?.file ?? placeOf(table);
  return { file, name, values: column.values, codes: column.codes, counts, firstRow };
}

/** A problem with one distinct text of a column: stands for every row that holds it. */
export function cellProblem(
  kind: ProblemKind,
  cells: Cells,
  index: number,
  details?: NonNullable<InputProblem["details"]>,
): InputProblem {
  return inputProblem(kind, cells.file, {
    column: cells.name,
    row: cells.firstRow[index] ?? 0,
    value: cells.values[index] ?? "",
    count: cells.counts[index] ?? 0,
    ...(details === undefined ? {} : { details }),
  });
}

/** Spreads what was understood of each distinct text over the rows. */
export function spreadNumbers(cells: Cells, byText: ArrayLike<number>): Float64Array {
  const rows = new Float64Array(cells.codes.length);
  for (let row = 0; row < rows.length; row++) rows[row] = byText[cells.codes[row] ?? 0] ?? Number.NaN;
  return rows;
}

/** The same for small codes. */
export function spreadCodes(cells: Cells, byText: ArrayLike<number>): Uint8Array {
  const rows = new Uint8Array(cells.codes.length);
  for (let row = 0; row < rows.length; row++) rows[row] = byText[cells.codes[row] ?? 0] ?? 0;
  return rows;
}
