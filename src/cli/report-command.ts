import { basename, dirname, join } from "node:path";
import { renderFiles } from "../render/files.js";
import { makePdf } from "../render/pdf/make-pdf.js";
import { loadWords, type Words } from "../render/words.js";
import { type OutputFile, writeReport } from "../render/write.js";
import { buildReport } from "../report.js";
import type { Reading, Results } from "../results/schema.js";
import { reportDate } from "./clock.js";
import type { Effects } from "./effects.js";
import { loadInput } from "./input.js";
import { wordsOf } from "./language.js";
import { uncoveredSigns } from "./uncovered-signs.js";
import { programVersion } from "./version.js";

export interface ReportOptions {
  readonly out: string;
  readonly language?: string;
  readonly browser?: string;
  readonly pdf: boolean;
  readonly date?: string;
  readonly json?: string;
  readonly failOn?: string;
  readonly quiet?: boolean;
}

const severity: readonly Reading[] = ["expected", "explain", "doubt"];

/** True when a check reads as bad as the user asked to be told of; 'unknown' counts for 'unknown' alone. */
function conditionMet(results: Results, failOn: string | undefined): boolean {
  if (failOn === undefined) return false;
  if (failOn === "unknown") return results.checks.some((check) => check.reading === "unknown");
  const limit = severity.indexOf(failOn as Reading);
  return results.checks.some((check) => severity.indexOf(check.reading) >= limit);
}

/** A PDF must carry a day; without any it carries the first day of the calendar computers count from, and prints none. */
const undated = "1970-01-01";

async function pdfFile(
  html: string,
  results: Results,
  options: Pick<ReportOptions, "browser">,
  effects: Effects,
  words: Words,
): Promise<OutputFile[]> {
  const request = {
    path: options.browser,
    environment: { ...effects.environment },
  };
  const outcome = await makePdf(html, request, { madeOn: results.madeOn ?? undated });
  if (outcome.kind === "printed") {
    if (outcome.note !== undefined) effects.say(words.text(outcome.note));
    const signs = uncoveredSigns(html);
    if (signs.length > 0) effects.say(words.text({ id: "cli.uncovered-signs", values: { signs } }));
    return [{ name: "report.pdf", content: outcome.pdf }];
  }
  effects.say(words.text(outcome.reason));
  return [];
}

/** What goes into the output beside the results. */
export interface Beside {
  /** Rows for the survey team; null when they are not known. */
  readonly rows: Parameters<typeof renderFiles>[2];
  /** Files of an earlier output to take over as they are. */
  readonly kept: readonly OutputFile[];
}

/** Draws and writes the output of some results; returns the paths written. */
export async function writeOutput(
  results: Results,
  beside: Beside,
  options: Pick<ReportOptions, "out" | "browser" | "pdf">,
  effects: Effects,
  words: Words,
  onStage: (stage: string) => void,
): Promise<readonly string[]> {
  onStage("draw");
  const { html, files } = await renderFiles(results, words, beside.rows);
  let all = [...files, ...beside.kept];
  if (options.pdf) {
    onStage("print");
    const [first, ...rest] = all;
    all = [
      ...(first === undefined ? [] : [first]),
      ...(await pdfFile(html, results, options, effects, words)),
      ...rest,
    ];
  }
  onStage("write");
  const written = await writeReport(join(options.out, results.survey.name), all);
  for (const left of written.leftBehind) effects.say(words.text({ id: "cli.left-behind", values: { path: left } }));
  return written.paths;
}

/** The paths worth saying: every file but the tables, and their folder once, so that the list stays short. */
export function pathsToSay(paths: readonly string[]): string[] {
  const isTable = (path: string): boolean => basename(dirname(path)) === "tables";
  const folders = new Set(paths.filter(isTable).map((path) => dirname(path)));
  return [...paths.filter((path) => !isTable(path)), ...folders];
}

/** `tareline report`: from a data or settings file to the written report. */
export async function reportCommand(path: string, options: ReportOptions, effects: Effects): Promise<void> {
  const talk = loadWords("en");
  const stage = (name: string): void => {
    if (options.quiet !== true && effects.watched) effects.say(talk.text({ id: `cli.stage.${name}`, values: {} }));
  };
  const date = reportDate(options.date, effects.environment);
  if (options.language !== undefined) wordsOf(options.language);
  stage("read");
  const input = await loadInput(path);
  const words = wordsOf(options.language ?? input.surveyFile?.values.language ?? "en");
  const { results, rows } = buildReport({
    ...input,
    date,
    today: effects.today,
    version: programVersion(),
    onStage: stage,
  });
  if (options.json === "-") {
    effects.out(`${JSON.stringify(results, null, 1)}\n`);
  } else {
    const forFollowUp = rows.map(({ check, row }) => ({ check, ...row }));
    const paths = await writeOutput(results, { rows: forFollowUp, kept: [] }, options, effects, words, stage);
    if (options.quiet !== true) for (const line of pathsToSay(paths)) effects.say(line);
  }
  if (conditionMet(results, options.failOn)) effects.exitWith(1);
}
