import { checks } from "../../src/checks/index.js";
import { type CheckRun, runCheck } from "../../src/checks/run.js";
import type { CodedColumn, Survey } from "../../src/columns/survey.js";
import { derive } from "../../src/derive/derive.js";
import { describe } from "../../src/describe/describe.js";
import { clusterListCsv } from "../../src/example/cluster-list.js";
import type { ExampleOptions } from "../../src/example/options.js";
import { generateSurvey } from "../../src/example/survey.js";
import { toCsv } from "../../src/example/to-csv.js";
import { toYaml } from "../../src/example/to-yaml.js";
import { readData } from "../../src/read/read-data.js";
import type { GroupReading, Reading } from "../../src/results/schema.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";

export interface Checked {
  readonly survey: Survey;
  readonly runs: ReadonlyMap<string, CheckRun>;
}

/** From the text of a data file and of its settings to what every check says: the program's own way, without drawing. */
export async function checkText(csv: string, yaml: string, name: string, clusters?: string): Promise<Checked> {
  const read = (text: string, file: string) => readData(new TextEncoder().encode(text), file);
  const table = await read(csv, `${name}.csv`);
  const clusterList = clusters === undefined ? null : await read(clusters, "clusters.csv");
  const survey = describe(table, parseSurveyFile(yaml, `${name}.yaml`), { clusterList });
  const { children } = derive(survey);
  const runs = checks.map((check) => [check.id, runCheck(check, children, survey.settings)] as const);
  return { survey, runs: new Map(runs) };
}

/** An invented survey, by way of its text. */
export function checkExample(options: ExampleOptions): Promise<Checked> {
  const files = { data: "invented.csv", clusterList: "clusters.csv" };
  const yaml = toYaml({ title: "Invented survey", name: "invented", remark: "Invented data.", ...files });
  const survey = generateSurvey(options);
  return checkText(toCsv(survey), yaml, "invented", clusterListCsv(survey));
}

export function resultOf(checked: Checked, id: string): CheckRun["result"] {
  const run = checked.runs.get(id);
  if (run === undefined) throw new Error(`There is no check '${id}'.`);
  return run.result;
}

export function isNoticed(reading: Reading): boolean {
  return reading === "explain" || reading === "doubt";
}

/** The label that the report prints for a label of the file. */
export function publicLabel(column: CodedColumn | null, label: string): string {
  const printed = column?.publicLabels[column.labels.indexOf(label)];
  if (printed === undefined) throw new Error(`There is no label '${label}'.`);
  return printed;
}

/** Labels of the groups that a check notices, by team or by place. */
export function noticedGroups(checked: Checked, id: string, by: readonly string[]): GroupReading[] {
  return resultOf(checked, id).groups.filter((group) => by.includes(group.by) && isNoticed(group.reading));
}
