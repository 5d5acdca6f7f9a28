import { type Children, type IndexId, indexIds } from "../derive/children.js";
import { message } from "../results/message.js";
import type { RowToCheck } from "./check.js";

/** Columns of the file that an index rests on. */
function columnsOf(children: Children, index: IndexId): string {
  const { weight, height, arm, head } = children;
  const used = {
    "weight-for-height": [weight, height],
    "height-for-age": [height],
    "weight-for-age": [weight],
    "bmi-for-age": [weight, height],
    "arm-for-age": [arm],
    "head-for-age": [head],
  }[index];
  return used.flatMap((column) => (column === null ? [] : [column.name])).join(", ");
}

/** The rows whose z-score lies beyond the limits. */
export function rowsOf(children: Children): RowToCheck[] {
  const { weight, height, arm, head } = children;
  return indexIds.flatMap((index) => {
    const { z, outsideFixed } = children.indices[index];
    const used = {
      "weight-for-height": [weight, height],
      "height-for-age": [height],
      "weight-for-age": [weight],
      "bmi-for-age": [weight, height],
      "arm-for-age": [arm],
      "head-for-age": [head],
    }[index];
    const rows: RowToCheck[] = [];
    z.forEach((score, i) => {
      if (outsideFixed[i] !== 1 || Number.isNaN(score)) return;
      const value = used.flatMap((column) => (column === null ? [] : [String(column.values[i])])).join(", ");
      rows.push({
        sheetRow: children.sheetRow[i] as number,
        column: columnsOf(children, index),
        value,
        message: message("checks.implausible-values.row", { index: message(`index.${index}`), z: score }),
      });
    });
    return rows;
  });
}
