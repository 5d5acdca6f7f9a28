import type { ExampleOptions } from "../../src/example/options.js";
import { generateSurvey } from "../../src/example/survey.js";
import { toCsv } from "../../src/example/to-csv.js";
import { toYaml } from "../../src/example/to-yaml.js";
import { readData } from "../../src/read/read-data.js";
import { buildReport } from "../../src/report.js";
import type { Results } from "../../src/results/schema.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";

/** The results of an invented survey, by way of its text, as plain JSON: what a results.json holds. */
export async function computedResults(options: ExampleOptions, name = "invented"): Promise<Results> {
  const { fieldwork } = options;
  const given = { title: "Invented survey", name, data: `${name}.csv`, remark: "Invented data." };
  const yaml = toYaml(fieldwork === undefined ? given : { ...given, fieldwork });
  const table = await readData(new TextEncoder().encode(toCsv(generateSurvey(options))), `${name}.csv`);
  const surveyFile = parseSurveyFile(yaml, `${name}.yaml`);
  const { results } = buildReport({ table, surveyFile, settingsSha256: null, date: null, version: "1.0.0" });
  return JSON.parse(JSON.stringify(results));
}

/** A copy of plain data without the groups that numbers speak of, which earlier versions did not state. */
function withoutGroups(part: unknown): unknown {
  if (Array.isArray(part)) return part.map(withoutGroups);
  if (typeof part !== "object" || part === null) return part;
  const kept = Object.entries(part).filter(([name]) => name !== "of");
  return Object.fromEntries(kept.map(([name, value]) => [name, withoutGroups(value)]));
}

/** The same results as version 2 wrote them: without groups, and without a section for comparisons. */
export function asVersionTwo(results: Results): Record<string, unknown> {
  const { groups: _, comparable: __, ...rest } = results;
  return { ...(withoutGroups(rest) as Omit<Results, "groups" | "comparable">), version: 2 };
}

/** The same results as version 1 wrote them: outcomes of scenarios without standard error and degrees of freedom. */
export function asVersionOne(results: Results): Record<string, unknown> {
  const told = asVersionTwo(results) as unknown as Results;
  const { consequence } = told;
  if (consequence === undefined) return { ...told, version: 1 };
  const scenarios = consequence.scenarios.map((scenario) => ({
    ...scenario,
    outcomes: scenario.outcomes.map(({ standardError: _, degreesOfFreedom: __, ...outcome }) => outcome),
  }));
  return { ...told, version: 1, consequence: { ...consequence, scenarios } };
}
