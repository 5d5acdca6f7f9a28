import { randomStream } from "../../src/stats/random.js";

/** A row of the small survey, by column name. */
export type Row = Record<string, string>;

const day = (value: number): string => new Date(value * 86_400_000).toISOString().slice(0, 10);
/** 2025-03-03. */
const firstDay = 20_150;

/** Invented children of a plain curve, the same for every run: what a careful team would write down. */
export function smallRows(count = 60, clusters = 6): Row[] {
  const random = randomStream(11);
  return Array.from({ length: count }, (_, i) => {
    const age = 30 + random.below(1770);
    const interview = firstDay + (i % 5);
    const height = 50 + 3.1 * (age / 30.4) ** 0.72 + 2.5 * random.normal();
    const weight = Math.max(2.5, 15.5 * (height / 100) ** 2 + 0.6 * random.normal());
    return {
      cluster: String(1 + (i % clusters)),
      team: `T${1 + (i % 3)}`,
      interview_date: day(interview),
      sex: i % 2 === 0 ? "m" : "f",
      birth_date: day(interview - age),
      weight: weight.toFixed(1),
      height: height.toFixed(1),
      muac: String(Math.round(140 + 10 * random.normal())),
      oedema: "n",
    };
  });
}

/** Rows as comma-separated text; `columns` picks and orders them. */
export function csvOf(
  rows: readonly Row[],
  columns: readonly string[] = Object.keys(rows[0] ?? {}),
  delimiter = ",",
): string {
  const cell = (text: string): string => (/[",;\t\r\n|]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const lines = [columns, ...rows.map((row) => columns.map((column) => row[column] ?? ""))];
  return `${lines.map((line) => line.map(cell).join(delimiter)).join("\n")}\n`;
}

/** The small survey with some cells changed: row numbers as a spreadsheet shows them (the header is row 1). */
export function changed(changes: Readonly<Record<number, Row>>): Row[] {
  return smallRows().map((row, i) => ({ ...row, ...changes[i + 2] }));
}
