import { recognisesName } from "../../src/columns/column-names.js";
import type { Survey } from "../../src/columns/survey.js";
import { type DescribeOptions, describe } from "../../src/describe/describe.js";
import { readData } from "../../src/read/read-data.js";
import type { TextTable } from "../../src/read/table.js";
import { loadWords } from "../../src/render/words.js";
import type { Message } from "../../src/results/schema.js";
import { groupProblems, InputError, type InputProblem, type ProblemKind } from "../../src/settings/problems.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";

export type Columns = Readonly<Record<string, readonly (string | number)[]>>;

function quoted(cell: string | number): string {
  return `"${String(cell).replaceAll('"', '""')}"`;
}

/** A CSV of columns, read as a user's file would be. */
export function tableOf(columns: Columns): Promise<TextTable> {
  const names = Object.keys(columns);
  const rows = Math.max(...names.map((name) => columns[name]?.length ?? 0));
  const lines = Array.from({ length: rows }, (_, row) =>
    names.map((name) => quoted(columns[name]?.[row] ?? "")).join(","),
  );
  const text = [names.map(quoted).join(","), ...lines].join("\n");
  return readData(new TextEncoder().encode(text), "data.csv", { recognises: recognisesName });
}

/** Six children with everything a report needs; single columns are replaced in the tests. */
export const children: Columns = {
  cluster: [1, 1, 2, 2, 3, 3],
  team: ["T1", "T1", "T2", "T2", "T1", "T2"],
  "interview date": ["2026-01-20", "2026-01-20", "2026-01-21", "2026-01-21", "2026-01-22", "2026-01-22"],
  sex: ["m", "f", "m", "f", "m", "f"],
  "birth date": ["2024-05-13", "2023-02-28", "2025-10-01", "2022-07-19", "2021-12-31", "2024-09-02"],
  weight: [10.4, 12.1, 5.9, 14.2, 15.6, 9],
  height: [79.5, 91.2, 60.3, 97, 102.4, 74.1],
  "arm circumference": [142, 148, 131, 155, 158, 139],
  oedema: ["n", "n", "n", "y", "n", "n"],
};

export async function surveyOf(
  columns: Columns,
  settings: string | null = null,
  options: DescribeOptions = {},
): Promise<Survey> {
  const file = settings === null ? null : parseSurveyFile(settings, "survey.yaml");
  const survey = describe(await tableOf(columns), file, options);
  for (const note of survey.settings.notes) mustHaveWords(note);
  return survey;
}

const words = loadWords("en");

/** Every message that any test meets must be found in the words and formed with the values it carries. */
export function mustHaveWords(message: Message): void {
  const text = words.text(message);
  if (text === "" || /\[\[|undefined|NaN|[{}]/.test(text)) throw new Error(`${message.id}: ${text}`);
}

/** What an InputError carries; anything else fails the test. */
export async function problemsOf(run: () => unknown): Promise<readonly InputProblem[]> {
  try {
    await run();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    for (const group of groupProblems(error.problems))
      [group.title, group.remedy, ...group.examples].forEach(mustHaveWords);
    return error.problems;
  }
  throw new Error("no InputError was thrown");
}

export async function describeProblems(
  columns: Columns,
  settings: string | null = null,
  options: DescribeOptions = {},
): Promise<readonly InputProblem[]> {
  return problemsOf(() => surveyOf(columns, settings, options));
}

export function kinds(problems: readonly InputProblem[]): ProblemKind[] {
  return problems.map((problem) => problem.kind);
}

/** Day since 1970-01-01 of an ISO date, by the platform's own calendar. */
export function day(iso: string): number {
  return Date.parse(`${iso}T00:00:00Z`) / 86_400_000;
}
