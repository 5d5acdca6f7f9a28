import type { Comparison } from "../results/comparison.js";
import { comparisonTables } from "./comparison-tables.js";
import type { RenderedFiles } from "./files.js";
import { pageDrawer } from "./html.js";
import { readable } from "./readable.js";
import { tableFiles } from "./table-files.js";
import { type ComparisonView, comparisonView } from "./view/comparison/page.js";
import type { Words } from "./words.js";

const drawComparison = pageDrawer<ComparisonView>("comparison");

/**
 * A comparison as one self-contained page: for the screen, and to be printed as PDF. Needs no script and no network. The same
 * comparison and words give the same bytes.
 */
export async function renderComparisonHtml(comparison: Comparison, words: Words): Promise<string> {
  return drawComparison(comparisonView(comparison, words), words);
}

/** Draws the whole output of a comparison: everything but the PDF and the Word document, comparison.html first. */
export async function comparisonFiles(comparison: Comparison, words: Words): Promise<RenderedFiles> {
  const shown = readable(comparison);
  const html = await renderComparisonHtml(shown, words);
  const tables = tableFiles(comparisonTables(shown), shown.comparison.title, words);
  const files = [
    { name: "comparison.html", content: html },
    { name: "comparison.json", content: `${JSON.stringify(comparison, null, 1)}\n` },
    ...tables,
  ];
  return { html, files };
}
