import { checks } from "../checks/index.js";
import type { AnyCheck } from "../checks/run.js";
import { sampleSurveyFiles } from "../example/files.js";
import { readData } from "../read/read-data.js";
import { checkList, checkPage } from "../render/explain.js";
import type { Words } from "../render/words.js";
import { buildReport } from "../report.js";
import { message } from "../results/message.js";
import type { Results } from "../results/schema.js";
import { parseSurveyFile } from "../settings/survey-file.js";
import type { Effects } from "./effects.js";
import { helpLanguage } from "./help-language.js";
import { clusterListOptions, readOptionsOf } from "./input.js";
import { wordsOf } from "./language.js";
import { UsageError } from "./usage-error.js";
import { programVersion } from "./version.js";

/** The results of the invented survey with its planted faults: what the explanations take their examples from. */
export async function exampleResults(): Promise<Results> {
  const files = new Map(sampleSurveyFiles().map(({ name, content }) => [name, content]));
  const bytes = (name: string): Uint8Array => Buffer.from(files.get(name) ?? "");
  const surveyFile = parseSurveyFile(files.get("quillmar.yaml") ?? "", "quillmar.yaml");
  const list = clusterListOptions(surveyFile);
  const table = await readData(bytes("quillmar.csv"), "quillmar.csv", readOptionsOf(surveyFile));
  const clusterList = list === null ? null : await readData(bytes(list.path), list.path, list);
  const input = { table, surveyFile, settingsSha256: null, clusterList, date: null, version: programVersion() };
  return buildReport(input).results;
}

/** What one check finds and how, with its example from the results. */
export function explained(check: AnyCheck, results: Results, words: Words): string {
  const found = results.checks.find(({ id }) => id === check.id);
  if (found === undefined) throw new Error(`The invented survey has no check '${check.id}'.`);
  return checkPage({ found, needs: check.needs, sources: results.sources }, words);
}

/** `tareline explain`: what a check finds, what chance gives, limits, sources and an example; without a name, all checks in a list. */
export async function explainCommand(
  name: string | undefined,
  options: { readonly language?: string },
  effects: Effects,
): Promise<void> {
  const words = wordsOf(options.language ?? helpLanguage([], effects.environment));
  if (name === undefined) {
    const ids = checks.map(({ id }) => id);
    effects.out(checkList(ids, words));
    return;
  }
  const check = checks.find(({ id }) => id === name);
  if (check === undefined) {
    const names = checks.map(({ id }) => id);
    throw new UsageError(message("cli.usage.no-check", { name, names }));
  }
  effects.out(explained(check, await exampleResults(), words));
}
