import type { Cells } from "./cells.js";
import { parseNumber } from "./numbers.js";

/** Texts that mean 'nothing recorded' in any column, in lower case. */
const usual: ReadonlySet<string> = new Set(["", "na", "n/a", "#n/a", "nan", "null", ".", "-", "--"]);

/** For each distinct text, 1 where it stands for a missing value: one of the usual texts or of the codes given. */
export function missingTexts(cells: Cells, codes: readonly string[]): Uint8Array {
  const texts = new Set(codes.map((code) => code.toLowerCase()));
  const numbers = new Set(codes.map(parseNumber).filter((number) => !Number.isNaN(number)));
  const missing = new Uint8Array(cells.values.length);
  cells.values.forEach((value, index) => {
    const lower = value.toLowerCase();
    if (usual.has(lower) || texts.has(lower) || (numbers.size > 0 && numbers.has(parseNumber(value))))
      missing[index] = 1;
  });
  return missing;
}

/** Rows whose cell is missing. */
export function countMissing(cells: Cells, missing: Uint8Array): number {
  return cells.counts.reduce((sum, count, index) => sum + (missing[index] === 1 ? count : 0), 0);
}

/** Codes given by the user that do stand in the column, with the rows they fill: usual texts are not listed. */
export function codesMet(cells: Cells, missing: Uint8Array): { readonly value: string; readonly count: number }[] {
  return cells.values.flatMap((value, index) =>
    missing[index] === 1 && !usual.has(value.toLowerCase()) ? [{ value, count: cells.counts[index] ?? 0 }] : [],
  );
}
