import type { Comparison } from "../../results/comparison.js";
import type { Results } from "../../results/schema.js";
import { readable } from "../readable.js";
import type { Words } from "../words.js";

/**
 * The report as an editable document (Office Open XML, ISO/IEC 29500): real headings, captions, tables with header rows and
 * pictures with text alternatives. Needs no browser and no network. The same results and words give the same bytes. The
 * libraries are loaded at the first call.
 */
export async function renderDocx(results: Results, words: Words): Promise<Uint8Array> {
  const { reportDocument } = await import("./document.js");
  return reportDocument(readable(results), words);
}

/** A comparison as an editable document, under the same conditions. */
export async function renderComparisonDocx(comparison: Comparison, words: Words): Promise<Uint8Array> {
  const { comparisonDocument } = await import("./document.js");
  return comparisonDocument(readable(comparison), words);
}
