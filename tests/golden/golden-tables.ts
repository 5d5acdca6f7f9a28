import { fileURLToPath } from "node:url";
import { loadInput } from "../../src/cli/input.js";
import { checksTable, prevalenceTable } from "../../src/render/flat-tables.js";
import { buildReport } from "../../src/report.js";
import type { Table, TableCell } from "../../src/results/schema.js";

/** A table of numbers as it is committed: message ids in place of words, so that only numbers and readings count. */
export interface GoldenTable {
  readonly name: string;
  readonly rows: readonly (readonly string[])[];
}

function written(cell: TableCell): string {
  if (cell === null) return "";
  if (typeof cell === "object") return [cell.id, ...Object.values(cell.values).map(String)].join(" ");
  return typeof cell === "number" ? String(cell) : cell;
}

function golden(name: string, table: Table): GoldenTable {
  return { name, rows: [table.columns.map(({ id }) => id), ...table.rows.map((row) => row.map(written))] };
}

/** Every number of every check, every prevalence and every scenario of the two sample surveys. */
export async function goldenTables(): Promise<GoldenTable[]> {
  const tables: GoldenTable[] = [];
  for (const survey of ["quillmar", "quillmar-clean"]) {
    const path = fileURLToPath(new URL(`../../sample-input/${survey}.yaml`, import.meta.url));
    const { results } = buildReport({ ...(await loadInput(path)), date: null, version: "golden" });
    tables.push(golden(`${survey}-checks.tsv`, checksTable(results)));
    tables.push(golden(`${survey}-prevalence.tsv`, prevalenceTable(results)));
    const scenarios = results.consequence?.tables.find(({ id }) => id === "scenarios");
    if (scenarios !== undefined) tables.push(golden(`${survey}-scenarios.tsv`, scenarios));
  }
  return tables;
}
