import { fileURLToPath } from "node:url";
import { loadInput } from "../../src/cli/input.js";
import { run } from "../../src/cli/main.js";
import { comparisonTables } from "../../src/render/comparison-tables.js";
import { checksTable, prevalenceTable } from "../../src/render/flat-tables.js";
import { buildReport } from "../../src/report.js";
import type { Comparison } from "../../src/results/comparison.js";
import type { Table, TableCell } from "../../src/results/schema.js";

/** A table of numbers as it is committed: message ids in place of words, so that only numbers and readings count. */
export interface GoldenTable {
  readonly name: string;
  readonly rows: readonly (readonly string[])[];
}

const sample = (path: string): string => fileURLToPath(new URL(`../../sample-input/${path}`, import.meta.url));

function written(cell: TableCell): string {
  if (cell === null) return "";
  if (typeof cell === "object") return [cell.id, ...Object.values(cell.values).map(writtenValue)].join(" ");
  return typeof cell === "number" ? String(cell) : cell;
}

function writtenValue(value: unknown): string {
  if (Array.isArray(value)) return value.map(writtenValue).join(" ");
  return typeof value === "object" && value !== null ? written(value as TableCell) : String(value);
}

function golden(name: string, table: Table): GoldenTable {
  return { name, rows: [table.columns.map(({ id }) => id), ...table.rows.map((row) => row.map(written))] };
}

/** Every number of every check, every prevalence and every scenario of a sample survey. */
async function surveyTables(survey: string): Promise<GoldenTable[]> {
  const input = await loadInput(sample(`${survey}.yaml`));
  const { results } = buildReport({ ...input, date: null, version: "golden" });
  const scenarios = results.consequence?.tables.filter(({ id }) => id === "scenarios") ?? [];
  return [
    golden(`${survey}-checks.tsv`, checksTable(results)),
    golden(`${survey}-prevalence.tsv`, prevalenceTable(results)),
    ...scenarios.map((table) => golden(`${survey}-scenarios.tsv`, table)),
  ];
}

/** A sample comparison, computed anew: no earlier results lie where they would be looked for. */
async function compared(folder: string): Promise<Comparison> {
  const out: string[] = [];
  const said: string[] = [];
  await run(["compare", sample(folder), "--json", "-", "--out", sample("no-such-folder")], {
    out: (text) => void out.push(text),
    say: (text) => void said.push(text),
    watched: false,
    environment: {},
    exitWith: (code) => void said.push(`ended with ${code}`),
  });
  if (said.length > 0) throw new Error(said.join("\n"));
  return JSON.parse(out.join("")) as Comparison;
}

type Pooled = Comparison["pooled"][number];

/** What is pooled over the surveys of a round, a column each. */
const pooledColumns: Readonly<Record<string, (pooled: Pooled) => string | number | null | undefined>> = {
  estimate: ({ estimate }) => estimate,
  round: ({ round }) => round,
  surveys: ({ surveys }) => surveys.length,
  combined: ({ combined }) => combined?.value,
  "standard-error": ({ combined }) => combined?.standardError,
  low: ({ combined }) => combined?.interval?.low,
  high: ({ combined }) => combined?.interval?.high,
  q: ({ heterogeneity }) => heterogeneity?.q,
  probability: ({ heterogeneity }) => heterogeneity?.probability,
  "i-squared": ({ heterogeneity }) => heterogeneity?.iSquared,
  "tau-squared": ({ heterogeneity }) => heterogeneity?.tauSquared,
  "tau-squared-low": ({ heterogeneity }) => heterogeneity?.tauSquaredInterval?.low,
  "tau-squared-high": ({ heterogeneity }) => heterogeneity?.tauSquaredInterval?.high,
};

function pooledTable(name: string, { pooled }: Comparison): GoldenTable {
  const rows = pooled.map((one) => Object.values(pooledColumns).map((column) => String(column(one) ?? "")));
  return { name, rows: [Object.keys(pooledColumns), ...rows] };
}

/** Every difference, with the number of paired scenarios in which it stands; these themselves; every pooled value. */
async function comparisonGolden(folder: string, listed: readonly string[]): Promise<GoldenTable[]> {
  const comparison = await compared(folder);
  const tables = comparisonTables(comparison).filter(({ id }) => listed.includes(id));
  return [
    ...tables.map((table) => golden(`${folder}-${table.id}.tsv`, table)),
    // Places of one round are pooled; rounds of one place are not.
    ...(comparison.pooled.length === 0 ? [] : [pooledTable(`${folder}-pooled.tsv`, comparison)]),
  ];
}

/** Every number of the sample surveys and of the sample comparisons. */
export async function goldenTables(): Promise<GoldenTable[]> {
  const tables: GoldenTable[] = [];
  for (const survey of ["quillmar", "quillmar-clean"]) tables.push(...(await surveyTables(survey)));
  tables.push(...(await comparisonGolden("two-rounds", ["differences", "paired-scenarios"])));
  // The paired scenarios of so many pairs would be megabytes; their counts stand with the differences.
  tables.push(...(await comparisonGolden("twelve-districts", ["differences"])));
  return tables;
}
