import { readFileSync } from "node:fs";
import type { GrowthTableId } from "../../src/derive/growth-standards/growth-table.js";

const folder = new URL("../known-values/growth/", import.meta.url);

/** Rows of a CSV of tests/known-values/growth, by the names of its header. */
export function published(file: string): readonly Readonly<Record<string, string>>[] {
  const [header = "", ...lines] = readFileSync(new URL(file, folder), "utf8").trim().split("\n");
  const names = header.split(",");
  return lines.map((line) => Object.fromEntries(line.split(",").map((cell, i) => [names[i], cell])));
}

export const sexOf = (row: Readonly<Record<string, string>>): 1 | 2 => (row.sex === "male" ? 1 : 2);

/** The table behind a printed table's name: the simplified tables print length and height apart. */
export function tableOf(name: string): GrowthTableId {
  return (name === "length-for-age" || name === "height-for-age" ? "length-height-for-age" : name) as GrowthTableId;
}
