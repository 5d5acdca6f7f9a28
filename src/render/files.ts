import type { Results, Table } from "../results/schema.js";
import { type RowForFollowUp, rowsToCheckCsv, tableToCsv } from "./csv.js";
import { checksTable, prevalenceTable } from "./flat-tables.js";
import { renderHtml } from "./html.js";
import type { Words } from "./words.js";
import type { OutputFile } from "./write.js";

/** Every table of the results, checks and scenarios alike, under its own id. */
export function allTables(results: Results): readonly Table[] {
  return [
    checksTable(results),
    prevalenceTable(results),
    ...results.checks.flatMap((check) => check.tables),
    ...(results.consequence?.tables ?? []),
  ];
}

export interface RenderedFiles {
  readonly html: string;
  /** Everything but the PDF, report.html first. */
  readonly files: readonly OutputFile[];
}

/** Draws the whole output from the results; `rows` is for the survey team only and null when redrawn without the data. */
export async function renderFiles(
  results: Results,
  words: Words,
  rows: readonly RowForFollowUp[] | null,
): Promise<RenderedFiles> {
  const html = await renderHtml(results, words);
  const text = (message: Parameters<Words["text"]>[0]): string => words.text(message);
  const tables = allTables(results).map((table) => ({
    name: `tables/${table.id}.csv`,
    content: tableToCsv(table, text),
  }));
  const files: OutputFile[] = [
    { name: "report.html", content: html },
    { name: "results.json", content: `${JSON.stringify(results, null, 1)}\n` },
    ...tables,
  ];
  if (rows !== null)
    files.push({
      name: "rows-to-check.csv",
      content: rowsToCheckCsv(rows, text),
    });
  return { html, files };
}
