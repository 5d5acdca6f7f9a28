import { writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Results } from "../../src/results/schema.js";
import { randomStream } from "../../src/stats/random.js";
import { call, emptyFolder } from "../cli/run-here.js";
import { csvOf, type Row, smallRows } from "../cli/small-survey.js";

export const districts = ["Ombrel", "Tazvin", "Yundeth"];

/** Invented children of twelve clusters in each of three districts, numbered from 1 to 12 in each; clusters differ in their weights. */
export function districtRows(perCluster = 20): Row[] {
  const random = randomStream(5);
  const effects = Array.from({ length: 36 }, () => 0.5 * random.normal());
  return smallRows(36 * perCluster, 36).map((row, i) => {
    const place = i % 36;
    const weight = Math.max(2.5, Number(row.weight) + (effects[place] as number)).toFixed(1);
    return { ...row, cluster: String(1 + (place % 12)), district: districts[Math.floor(place / 12)] as string, weight };
  });
}

export interface Reported {
  readonly code: number;
  readonly said: readonly string[];
  readonly results: Results;
  /** The notes of the report by the ends of their ids. */
  readonly notes: ReadonlyMap<string, Readonly<Record<string, unknown>>>;
}

/** `tareline report` of these rows, by the names of their columns or by settings. */
export async function report(rows: readonly Row[], settings?: string): Promise<Reported> {
  const folder = emptyFolder();
  writeFileSync(join(folder, "survey.csv"), csvOf(rows));
  if (settings !== undefined) writeFileSync(join(folder, "survey.yaml"), `data: survey.csv\n${settings}`);
  const input = join(folder, settings === undefined ? "survey.csv" : "survey.yaml");
  const { code, out, said } = await call(["report", input, "--json", "-"]);
  const results = (out === "" ? { notes: [] } : JSON.parse(out)) as Results;
  const notes = new Map(results.notes.map(({ id, values }) => [id.replace("input.note.", ""), values]));
  return { code, said, results, notes };
}

/** Columns of the rows by their roles, as settings name them. */
export function columnsOf(more: Readonly<Record<string, string>> = {}): string {
  const own = {
    cluster: "cluster",
    "interview-date": "interview_date",
    sex: "sex",
    "birth-date": "birth_date",
    weight: "weight",
    height: "height",
    oedema: "oedema",
    ...more,
  };
  const lines = Object.entries(own).filter(([, column]) => column !== "");
  return `columns:\n${lines.map(([role, column]) => `  ${role}: ${column}`).join("\n")}\n`;
}

export function wasting({ results }: Reported) {
  const overall = results.estimates.find(({ id }) => id === "wasting")?.overall;
  if (overall == null) throw new Error("no wasting");
  return overall;
}
