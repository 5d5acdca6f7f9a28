import type { CodeForTeam, RowForFollowUp } from "../results/internal-lists.js";
import type { ProblemLine } from "../results/problem-line.js";
import type { Message, Reading, Table, TableCell } from "../results/schema.js";
import { withoutIsolates } from "./isolate.js";

/** How a language's spreadsheets part cells and write decimals. */
export type CsvSeparators =
  | { readonly cell: ","; readonly decimal: "." }
  | { readonly cell: ";"; readonly decimal: "." | "," };

type Words = (message: Message) => string;
type CsvCell = number | string | null;

const english: CsvSeparators = { cell: ",", decimal: "." };
const decimalComma: CsvSeparators = { cell: ";", decimal: "," };

/**
 * Cells parted by a semicolon and decimals by a comma where the language's countries write so, as their spreadsheets expect
 * (common practice, no source). Arabic countries differ among themselves: there, as in the report, a decimal point.
 */
export function separatorsOf(language: string): CsvSeparators {
  return ["es", "fr", "pt"].includes(language) ? decimalComma : english;
}

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

/** Columns of rows-to-check.csv that are left out where no row has a text for them. */
const optional = ["sheet", "cluster", "household", "child"] as const;

/**
 * The rows to look at, in the order of the survey file, as CSV. For the survey's own team; not part of the report. The first
 * column says so on every line, so that it is seen wherever the file is scrolled, sorted or cut. Several columns of the
 * file stand in one cell, parted by a bar, their values in the same order.
 */
export function rowsToCheckCsv(
  rows: readonly RowForFollowUp[],
  words: Words,
  separators: CsvSeparators = english,
): string {
  const used = optional.filter((name) => rows.some((row) => row[name] !== ""));
  const names = ["internal", "row", ...used, "column", "value", "check", "sentence", "suggestion"];
  const header = names.map((name) => words({ id: `rows-to-check.column.${name}`, values: {} }));
  const internal = words({ id: "rows-to-check.internal", values: {} });
  const inFileOrder = [...rows].sort((a, b) => a.sheetRow - b.sheetRow);
  const lines = inFileOrder.map((row): CsvCell[] => [
    internal,
    row.sheetRow,
    ...used.map((name) => row[name]),
    row.columns.join(" | "),
    row.values.join(" | "),
    words(row.check),
    words(row.message),
    row.suggestion === null ? "" : words(row.suggestion),
  ]);
  return toCsv([header, ...lines], separators);
}

/** Which label each code of the report stands for, as CSV. Internal: every line says so. */
export function codesCsv(codes: readonly CodeForTeam[], words: Words, separators: CsvSeparators = english): string {
  const header = [
    words({ id: "rows-to-check.column.internal", values: {} }),
    ...["what", "code", "label"].map((name) => words({ id: `codes.column.${name}`, values: {} })),
  ];
  const internal = words({ id: "rows-to-check.internal", values: {} });
  const lines = codes.map(({ role, label, code }) => [
    internal,
    words({ id: `role.${role}`, values: {} }),
    code,
    label,
  ]);
  return toCsv([header, ...lines], separators);
}

const problemColumns = ["file", "row", "line", "column", "value", "count", "problem", "detail", "remedy"];

/** The first line of problems.csv, by which an earlier one is known. */
export function problemsHeader(words: Words, separators: CsvSeparators = english): string {
  const named = problemColumns.map((name) => words({ id: `problems.column.${name}`, values: {} }));
  return toCsv([[words({ id: "rows-to-check.column.internal", values: {} }), ...named]], separators);
}

/** Every problem of the input, one a line, as CSV. */
export function problemsCsv(
  problems: readonly ProblemLine[],
  words: Words,
  separators: CsvSeparators = english,
): string {
  const internal = words({ id: "rows-to-check.internal", values: {} });
  const lines = problems.map((one): CsvCell[] => [
    internal,
    one.file,
    one.row,
    one.line,
    one.column,
    one.value,
    one.count,
    words(one.title),
    one.detail === null ? "" : words(one.detail),
    words(one.remedy),
  ]);
  return problemsHeader(words, separators) + toCsv(lines, separators).slice(1);
}

const readings: ReadonlySet<Reading> = new Set(["expected", "explain", "doubt", "unknown"]);

function plainCell(cell: TableCell, unit: string | undefined, words: Words): CsvCell {
  if (typeof cell === "object" && cell !== null) return words(cell);
  const isReading = unit === "reading" && readings.has(cell as Reading);
  return isReading ? words({ id: `reading.${cell}`, values: {} }) : cell;
}

function toCsv(lines: readonly (readonly CsvCell[])[], separators: CsvSeparators): string {
  const written = lines.map((line) => line.map((cell) => writtenCell(cell, separators)).join(separators.cell));
  return `\uFEFF${written.map((line) => `${line}\r\n`).join("")}`;
}

function writtenCell(cell: CsvCell, separators: CsvSeparators): string {
  if (cell === null) return "";
  if (typeof cell === "number") return Number.isFinite(cell) ? String(cell).replace(".", separators.decimal) : "";
  const text = withoutFormula(withoutIsolates(cell));
  return /["\r\n,;\t]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Signs that start a formula in common spreadsheets (OWASP, 'CSV Injection'), and their full-width forms. */
const formulaStart = /^[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/;
/** A negative number alone does nothing, and a raw value such as -3.2 stays as it was typed. */
const plainNegative = /^-\d+([.,]\d+)?$/;

function withoutFormula(text: string): string {
  return formulaStart.test(text) && !plainNegative.test(text) ? `'${text}` : text;
}
