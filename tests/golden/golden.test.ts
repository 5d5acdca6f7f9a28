import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type GoldenTable, goldenTables } from "./golden-tables.js";

/** Numbers are compared to this relative difference: machines may differ in the last digits of an exponential. */
const tolerance = 1e-9;

function committed(name: string): string[][] {
  const text = readFileSync(new URL(`./${name}`, import.meta.url), "utf8");
  return text
    .split("\n")
    .filter((line) => line !== "")
    .map((line) => line.split("\t"));
}

/** Cells that differ, as 'row, column: was ..., is ...'; at most ten. */
function differences(table: GoldenTable): string[] {
  const was = committed(table.name);
  if (was.length !== table.rows.length) return [`${was.length} rows were there, ${table.rows.length} are there now`];
  const found: string[] = [];
  table.rows.forEach((row, r) => {
    row.forEach((cell, c) => {
      const before = was[r]?.[c] ?? "";
      const [a, b] = [Number(before), Number(cell)];
      const same = before === cell || (before !== "" && cell !== "" && Math.abs(a - b) <= tolerance * Math.abs(a));
      if (!same && found.length < 10)
        found.push(`row ${r + 1} (${row.slice(0, 5).join(", ")}), column ${c + 1}: was ${before}, is ${cell}`);
    });
  });
  return found;
}

describe("the numbers of the sample surveys and comparisons", () => {
  it("are those that were committed: a change that moves one says so in CHANGELOG.md and runs `npm run golden`", async () => {
    const tables = await goldenTables();
    const bySurvey = ["checks", "prevalence", "scenarios"];
    expect(tables.map(({ name }) => name)).toEqual([
      ...["quillmar", "quillmar-clean"].flatMap((survey) => bySurvey.map((table) => `${survey}-${table}.tsv`)),
      ...["differences", "paired-scenarios"].map((table) => `two-rounds-${table}.tsv`),
      ...["differences", "pooled"].map((table) => `twelve-districts-${table}.tsv`),
    ]);
    for (const table of tables) {
      expect(table.rows.length, table.name).toBeGreaterThan(5);
      expect(differences(table), table.name).toEqual([]);
    }
  });
});
