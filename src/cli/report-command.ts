import { join } from "node:path";
import { type CodedGroup, codedGroups } from "../columns/label-codes.js";
import { drawAhead, startDrawing } from "../render/charts/draw.js";
import { renderFiles } from "../render/files.js";
import { readable } from "../render/readable.js";
import { noteInWords } from "../render/view/methods.js";
import { pageView } from "../render/view/page.js";
import type { Words } from "../render/words.js";
import { buildReport } from "../report.js";
import type { Reading, Results } from "../results/schema.js";
import { isSaidAtOnce } from "../settings/notes.js";
import { InputError } from "../settings/problems.js";
import { reportDate } from "./clock.js";
import type { Effects } from "./effects.js";
import { loadInput } from "./input.js";
import { formatsOf, languagesOf, type OutputOptions } from "./output-options.js";
import { problemsPath, removeProblems, writeProblems } from "./problems-file.js";
import { textOrNothing } from "./read-file.js";
import { ListedProblems, sayingIn, talkIn } from "./saying-in.js";
import { programVersion } from "./version.js";
import { type Output, pathsToSay, writeOutput } from "./write-output.js";

export interface ReportOptions extends OutputOptions {
  /** A data file in place of the one that the settings name. */
  readonly data?: string;
  /** Whose labels are replaced by codes, beside those that the settings name. */
  readonly codes?: CodedGroup | "both";
  /** False leaves out the internal files, rows-to-check.csv and codes-internal.csv. */
  readonly rows?: boolean;
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

/** What goes into the output beside the results, for the survey team. */
export interface Beside {
  /** Rows to look at; null when they are not known. */
  readonly rows: Parameters<typeof renderFiles>[2];
  /** What the codes of the report stand for. */
  readonly codes?: Parameters<typeof renderFiles>[3];
}

/** The output of some results. */
export function reportOutput(results: Results, { rows, codes }: Beside): Output {
  return {
    name: results.survey.name,
    page: "report",
    document: "annex.docx",
    madeOn: results.madeOn,
    draw: (words) => renderFiles(results, words, rows, codes),
    drawDocument: async (words) => (await import("../render/docx/render-docx.js")).renderDocx(results, words),
    drawFigures: async (words) =>
      (await import("../render/figure-files.js")).figureFiles(pageView(readable(results), words), words),
  };
}

/** `tareline report`: from a data or settings file to the written report. Talks in the report's own language. */
export async function reportCommand(path: string, options: ReportOptions, effects: Effects): Promise<void> {
  const talk = await talkIn(options.language, path);
  await sayingIn(talk, async () => {
    const list = problemsPath(options.out, path);
    try {
      await makeReport(path, options, effects, talk);
    } catch (error) {
      if (!(error instanceof InputError) || options.json === "-") throw error;
      throw new ListedProblems(error, await writeProblems(list, error.problems, talk));
    }
    if (options.json !== "-") await removeProblems(list);
  });
}

/** The rows that an earlier report in the same place used; null where there is none. */
async function earlierRows(path: string): Promise<number | null> {
  try {
    const earlier = JSON.parse(await textOrNothing(path)) as { readonly input?: { readonly rowsUsed?: unknown } };
    return typeof earlier.input?.rowsUsed === "number" ? earlier.input.rowsUsed : null;
  } catch {
    return null;
  }
}

async function makeReport(path: string, options: ReportOptions, effects: Effects, talk: Words): Promise<void> {
  const stage = (name: string): void => {
    if (options.quiet !== true && effects.watched) effects.say(talk.text({ id: `cli.stage.${name}`, values: {} }));
  };
  const date = reportDate(options.date, effects.environment);
  const formats = formatsOf(options);
  if (options.json !== "-") startDrawing();
  stage("read");
  const onRows = (rows: number): void => {
    if (options.quiet !== true && effects.watched) effects.say(talk.text({ id: "cli.stage.rows", values: { rows } }));
  };
  const input = await loadInput(path, { data: options.data, onRows });
  const languages = languagesOf(options.language, input.surveyFile?.values.language ?? "en");
  const { results, rows, codes } = buildReport({
    ...input,
    codes: codedGroups.filter((group) => options.codes === group || options.codes === "both"),
    date,
    today: effects.today,
    version: programVersion(),
    onStage: stage,
    onCharts: (charts) => {
      for (const words of languages) drawAhead(charts, words);
    },
  });
  if (options.quiet !== true) {
    for (const note of results.notes.filter(isSaidAtOnce)) effects.say(talk.text(noteInWords(note, talk)));
    for (const { message: said } of results.design.unknown ?? []) effects.say(talk.text(said));
  }
  if (options.json === "-") {
    effects.out(`${JSON.stringify(results, null, 1)}\n`);
  } else {
    const internal = options.rows === false ? { rows: null } : { rows, codes };
    const { out, browser } = options;
    const output = reportOutput(results, internal);
    const earlier = await earlierRows(join(out, output.name, "results.json"));
    const paths = await writeOutput(output, { out, browser, formats, languages, kept: [] }, effects, stage);
    if (options.quiet !== true) for (const line of pathsToSay(paths)) effects.say(line);
    if (earlier !== null && earlier !== results.input.rowsUsed) {
      const values = { before: earlier, now: results.input.rowsUsed };
      effects.say(talk.text({ id: "cli.other-rows", values }));
    }
  }
  if (conditionMet(results, options.failOn)) effects.exitWith(1);
}
