import { type Message, readingSchema, type Table, type TableCell } from "../results/schema.js";

/** How a language's spreadsheets part cells and write decimals. */
export type CsvSeparators =
  | { readonly cell: ","; readonly decimal: "." }
  | { readonly cell: ";"; readonly decimal: "." | "," };

/** A row of the survey file that someone should look at, and the check that says so. */
export interface RowForFollowUp {
  /** The row's number as a spreadsheet shows it. */
  readonly sheetRow: number;
  /** The column's original name. */
  readonly column: string;
  readonly value: string;
  /** Id of the check. */
  readonly check: string;
  readonly message: Message;
}

type Words = (message: Message) => string;
type CsvCell = number | string | null;

const english: CsvSeparators = { cell: ",", decimal: "." };

/**
 * A table as CSV: a header line of the columns' labels, then the rows, numbers unrounded, an empty cell where nothing
 * could be computed. RFC 4180 (quotes doubled, lines end in CRLF), UTF-8 with a byte order mark so that spreadsheets
 * read accents. Text that a spreadsheet would run as a formula starts with an apostrophe.
 */
export function tableToCsv(table: Table, words: Words, separators: CsvSeparators = english): string {
  const header = table.columns.map((column) => words(column.label));
  const rows = table.rows.map((row) => row.map((cell, index) => plainCell(cell, table.columns[index]?.unit, words)));
  return toCsv([header, ...rows], separators);
}

/** The rows to look at, in the order of the survey file, as CSV. For the survey's own team; not part of the report. */
export function rowsToCheckCsv(
  rows: readonly RowForFollowUp[],
  words: Words,
  separators: CsvSeparators = english,
): string {
  const names = ["row", "column", "value", "check", "sentence"];
  const header = names.map((name) => words({ id: `rows-to-check.column.${name}`, values: {} }));
  const inFileOrder = [...rows].sort((a, b) => a.sheetRow - b.sheetRow);
  const lines = inFileOrder.map((row) => [row.sheetRow, row.column, row.value, row.check, words(row.message)]);
  return toCsv([header, ...lines], separators);
}

function plainCell(cell: TableCell, unit: string | undefined, words: Words): CsvCell {
  if (typeof cell === "object" && cell !== null) return words(cell);
  const isReading = unit === "reading" && readingSchema.safeParse(cell).success;
  return isReading ? words({ id: `reading.${cell}`, values: {} }) : cell;
}

function toCsv(lines: readonly (readonly CsvCell[])[], separators: CsvSeparators): string {
  const written = lines.map((line) => line.map((cell) => writtenCell(cell, separators)).join(separators.cell));
  return `\uFEFF${written.map((line) => `${line}\r\n`).join("")}`;
}

function writtenCell(cell: CsvCell, separators: CsvSeparators): string {
  if (cell === null) return "";
  if (typeof cell === "number") return Number.isFinite(cell) ? String(cell).replace(".", separators.decimal) : "";
  const text = withoutFormula(cell);
  return /["\r\n,;\t]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Signs that start a formula in common spreadsheets (OWASP, 'CSV Injection'), and their full-width forms. */
const formulaStart = /^[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/;
/** A negative number alone does nothing, and a raw value such as -3.2 stays as it was typed. */
const plainNegative = /^-\d+([.,]\d+)?$/;

function withoutFormula(text: string): string {
  return formulaStart.test(text) && !plainNegative.test(text) ? `'${text}` : text;
}
