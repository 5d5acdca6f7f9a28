import { describe } from "../../src/describe/describe.js";
import type { TextTable } from "../../src/read/table.js";
import type { ProblemKind } from "../../src/settings/problems.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { type Columns, kinds, problemsOf, tableOf } from "./make-table.js";

/** A list of clusters, read as a user's file would be. */
export async function listOf(columns: Columns): Promise<TextTable> {
  return { ...(await tableOf(columns)), file: "clusters.csv" };
}

/** The kinds of problem that data with a list of clusters meet. */
export async function kindsOfList(settings: string, columns: Columns, list: Columns): Promise<ProblemKind[]> {
  const table = await tableOf(columns);
  const clusterList = await listOf(list);
  return kinds(await problemsOf(() => describe(table, parseSurveyFile(settings, "survey.yaml"), { clusterList })));
}
