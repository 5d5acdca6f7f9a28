import { message } from "../../results/message.js";
import type { Message, Reading, Table, TableCell, Unit } from "../../results/schema.js";
import type { OwnMarkup } from "../markup.js";
import { emDash } from "../numbers.js";
import { readingSign } from "../signs.js";
import type { Words } from "../words.js";

type ColumnUnit = Table["columns"][number]["unit"];

/** A table as the template draws it. */
export interface TableView {
  readonly id: string;
  readonly caption: string;
  readonly columns: readonly {
    readonly label: string;
    readonly numeric: boolean;
  }[];
  readonly rows: readonly RowView[];
  readonly notes: readonly string[];
  /** Long tables may break across pages, short ones do not. */
  readonly long: boolean;
  /** Set for a table too long for a report: said in its place. */
  readonly elsewhere: string | null;
}

interface RowView {
  readonly head: CellView;
  readonly cells: readonly CellView[];
  /** A heading inside the table, across all columns. */
  readonly group: boolean;
  readonly span: number;
}

interface CellView {
  readonly text: string;
  readonly numeric: boolean;
  readonly sign: OwnMarkup | null;
  /** Where the text leads on the page; null where it is no link. */
  readonly href: string | null;
  /** Short words stay on one line. */
  readonly short: boolean;
}

const isReading = (value: unknown): value is Reading =>
  value === "expected" || value === "explain" || value === "doubt" || value === "unknown";

export function cell(value: TableCell, unit: ColumnUnit, words: Words): CellView {
  const numeric = unit !== "text" && unit !== "reading";
  if (value === null) return { text: emDash, numeric, sign: null, href: null, short: true };
  if (unit === "reading" && isReading(value)) return readingCell(value, words);
  if (typeof value === "number")
    return {
      text: words.number(value, numeric ? (unit as Unit) : "statistic"),
      numeric,
      sign: null,
      href: null,
      short: false,
    };
  return { ...textCell(words.text(value)), numeric };
}

export function readingCell(reading: Reading, words: Words): CellView {
  return {
    text: words.text(message(`reading.${reading}`)),
    numeric: false,
    sign: readingSign(reading),
    href: null,
    short: true,
  };
}

/** A table with more rows than this is left to its file: nobody reads it in a report, and the figures show what it holds. */
export const mostRows = 40;

/** A table of the results, every number written in its column's unit. */
export function tableView(table: Table, id: string, words: Words): TableView {
  const columns = table.columns.map((column) => ({
    label: words.text(column.label),
    numeric: column.unit !== "text" && column.unit !== "reading",
  }));
  const parts = { id, caption: words.text(table.caption), notes: (table.notes ?? []).map((note) => words.text(note)) };
  if (table.rows.length > mostRows) {
    return makeTable({ ...parts, columns }, [], words.text(message("table.elsewhere", elsewhere(table))));
  }
  const rows = table.rows.map((row) => row.map((value, i) => cell(value, table.columns[i]?.unit ?? "text", words)));
  const runs = isGrouped(table) ? runsOf(rows) : null;
  return runs === null
    ? makeTable({ ...parts, columns }, rows)
    : makeTable(
        { ...parts, columns: columns.slice(1) },
        runs.flatMap(({ head, rows: inner }) => [[head], ...inner]),
      );
}

/** True for a table whose first two columns are both names, so that the first can become headings over the second. */
function isGrouped(table: Table): boolean {
  return table.columns[0]?.unit === "text" && table.columns[1]?.unit === "text" && table.columns.length > 3;
}

interface Run {
  readonly head: CellView;
  readonly rows: CellView[][];
}

/** Rows that begin alike, under one heading each; null where that would not save repetition. */
function runsOf(rows: readonly CellView[][]): Run[] | null {
  const runs: Run[] = [];
  for (const [head, ...cells] of rows) {
    if (head === undefined) return null;
    if (runs.at(-1)?.head.text !== head.text) runs.push({ head, rows: [] });
    runs.at(-1)?.rows.push(cells);
  }
  const heads = new Set(runs.map((run) => run.head.text));
  return heads.size === runs.length && runs.length * 2 <= rows.length ? runs : null;
}

function elsewhere(table: Table): Message["values"] {
  return {
    caption: table.caption,
    rows: table.rows.length,
    file: `tables/${table.id}.csv`,
  };
}

/** A table from cells already written; a row of one cell only becomes a heading across the table. */
export function makeTable(
  parts: Pick<TableView, "id" | "caption" | "columns" | "notes">,
  rows: readonly (readonly CellView[])[],
  elsewhere: string | null = null,
): TableView {
  const span = parts.columns.length;
  return {
    ...parts,
    rows: rows.map(([head, ...cells]) => ({
      head: head ?? textCell(emDash),
      cells,
      group: cells.length === 0 && span > 1,
      span,
    })),
    long: rows.length > 14,
    elsewhere,
  };
}

/** Letters up to which a text in a cell is not broken. */
const shortText = 18;

/** Shorthands for tables that the report itself composes. */
export function textCell(text: string): CellView {
  return { text, numeric: false, sign: null, href: null, short: text.length <= shortText };
}

/** A text that leads to a place on the page, such as '#weight-digits'. */
export function linkCell(text: string, href: string): CellView {
  return { ...textCell(text), href };
}

export function numberCell(value: number | null | undefined, unit: Unit, words: Words): CellView {
  return { text: words.number(value, unit), numeric: true, sign: null, href: null, short: false };
}

export function figureCell(text: string): CellView {
  return { text, numeric: true, sign: null, href: null, short: false };
}
