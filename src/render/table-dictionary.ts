import { message } from "../results/message.js";
import type { Table } from "../results/schema.js";
import type { CsvSeparators } from "./csv.js";
import { withoutIsolates } from "./isolate.js";
import type { Words } from "./words.js";

type Column = Table["columns"][number];

const cellNames = { ",": "comma", ";": "semicolon" } as const;
const decimalNames = { ".": "point", ",": "comma" } as const;

/** What kind of value stands in a column, in words. */
function unitOf({ unit }: Column, words: Words): string {
  // The numbers of a table that lists everything are of many units.
  const plain = unit === "text" || unit === "reading" || unit === "statistic";
  return words.text(message(plain ? `dictionary.unit.${unit}` : `unit.${unit}`));
}

/** Columns of the tables that list everything have short names, which are explained; those of the findings speak for themselves. */
function meaningOf({ id, label }: Column, words: Words): string | null {
  const brief = /^(file|page\.compare\.file)\./.test(label.id);
  return brief ? words.text(message(`dictionary.column.${id}`)) : null;
}

function columnLine(column: Column, words: Words): string {
  const [name, unit, meaning] = [words.text(column.label), unitOf(column, words), meaningOf(column, words)];
  const line =
    meaning === null
      ? message("dictionary.column", { name, unit })
      : message("dictionary.column-explained", { name, unit, meaning });
  return `  ${words.text(line)}`;
}

/**
 * A data dictionary of tables: every file, and of each of its columns the name, the unit and what it means, from the tables'
 * own labels. UTF-8 with a byte order mark, lines ending in CRLF.
 */
export function tableDictionary(
  tables: readonly Table[],
  title: string,
  separators: CsvSeparators,
  words: Words,
): string {
  const cell = message(`delimiter.${cellNames[separators.cell]}`);
  const decimal = message(`dictionary.decimal.${decimalNames[separators.decimal]}`);
  const parts = tables.map((table) => [
    `${table.id}.csv`,
    words.text(table.caption),
    ...table.columns.map((column) => columnLine(column, words)),
    ...(table.notes ?? []).map((note) => words.text(note)),
  ]);
  const head = [
    words.text(message("dictionary.title", { title })),
    words.text(message("dictionary.form", { cell, decimal })),
  ];
  const lines = [head, ...parts].flatMap((part) => [...part, ""]).slice(0, -1);
  return `\uFEFF${lines.map((line) => `${withoutIsolates(line)}\r\n`).join("")}`;
}
