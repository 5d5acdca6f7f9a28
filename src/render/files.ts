import type { CodeForTeam, RowForFollowUp } from "../results/internal-lists.js";
import type { Results, Table } from "../results/schema.js";
import { codesCsv, rowsToCheckCsv, separatorsOf } from "./csv.js";
import { checksTable, prevalenceTable } from "./flat-tables.js";
import { renderHtml } from "./html.js";
import { readable } from "./readable.js";
import { tableFiles } from "./table-files.js";
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

/** An output in one language. */
export interface RenderedFiles {
  readonly html: string;
  /** Everything but the PDF and the Word document: the page first, then all numbers, which are the same in every language. */
  readonly files: readonly OutputFile[];
}

/**
 * Draws the whole output from the results; `rows` and `codes` are for the survey team only; `rows` is null when redrawn
 * without the data, and no file is made where there are no codes.
 */
export async function renderFiles(
  results: Results,
  words: Words,
  rows: readonly RowForFollowUp[] | null,
  codes: readonly CodeForTeam[] = [],
): Promise<RenderedFiles> {
  const shown = readable(results);
  const html = await renderHtml(shown, words);
  const text = (message: Parameters<Words["text"]>[0]): string => words.text(message);
  const separators = separatorsOf(words.language);
  const files: OutputFile[] = [
    { name: "report.html", content: html },
    { name: "results.json", content: `${JSON.stringify(results, null, 1)}\n` },
    ...tableFiles(allTables(shown), shown.survey.title, words),
  ];
  if (rows !== null) files.push({ name: "rows-to-check.csv", content: rowsToCheckCsv(rows, text, separators) });
  if (codes.length > 0) files.push({ name: "codes-internal.csv", content: codesCsv(codes, text, separators) });
  return { html, files };
}
