import { extname, join } from "node:path";
import { currentVersion, isMapping } from "../compare/migrate.js";
import { buildReport } from "../report.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { groupProblems, InputError, type ProblemGroup } from "../settings/problems.js";
import { type LoadedInput, loadInput } from "./input.js";
import { parsedJson } from "./json-text.js";
import { checkedPath, mostTextBytes, readNamedFile } from "./read-file.js";
import { type Bytes, type ComparedSurvey, type ReadOrRefused, readResults, surveyOf, textOf } from "./read-results.js";
import { programVersion } from "./version.js";

export interface ReadSurveysOptions {
  /** Where earlier reports stand: `<out>/<name>/results.json`. */
  readonly out: string;
  /** The folder that the files must lie in; null where they were named on the command line. */
  readonly within: string | null;
  readonly today: number | undefined;
  /** Told each survey whose results are computed here, before they are. */
  readonly onCompute: (file: string) => void;
}

/** True where these results were computed by this version from just this data and these settings. */
function isCurrent(raw: unknown, input: LoadedInput): boolean {
  if (!isMapping(raw) || !isMapping(raw.input) || !isMapping(raw.tool)) return false;
  return (
    raw.version === currentVersion &&
    raw.tool.version === programVersion() &&
    raw.input.sha256 === input.table.sha256 &&
    raw.input.settingsSha256 === input.settingsSha256
  );
}

/** Results of an earlier report on just this data and these settings, by their checksums; null where there are none. */
async function earlierResults(input: LoadedInput, out: string): Promise<Buffer | null> {
  const name = input.surveyFile?.values.name;
  // The settings' checksum does not cover a list of clusters in a file of its own.
  if (name === undefined || input.clusterList !== null) return null;
  const bytes = await readNamedFile(join(out, name, "results.json"), mostTextBytes).catch(() => null);
  if (bytes === null) return null;
  const found = parsedJson(textOf(bytes));
  return found !== null && isCurrent(found.raw, input) ? bytes : null;
}

/** What is wrong with an input, without texts of its cells: a comparison is handed on, the data are not. */
function withoutCells({ title }: ProblemGroup): Message {
  const cells = ["value", "values"].filter((name) => name in title.values).map((name) => [name, "…"] as const);
  return { ...title, values: { ...title.values, ...Object.fromEntries(cells) } };
}

/** True for a file that settings name and that lies outside their folder, by its path or by a link. */
async function isOutside(path: string, within: string | null): Promise<boolean> {
  try {
    await checkedPath(path, within);
    return false;
  } catch (error) {
    return error instanceof InputError;
  }
}

/** Results of a survey of which only the settings or the data are there: an earlier report's, else computed now. */
async function computed(path: string, file: string, options: ReadSurveysOptions): Promise<Bytes> {
  try {
    const input = await loadInput(path);
    const earlier = await earlierResults(input, options.out);
    if (earlier !== null) return earlier;
    options.onCompute(file);
    const { results } = buildReport({ ...input, date: null, today: options.today, version: programVersion() });
    return Buffer.from(`${JSON.stringify(results, null, 1)}\n`);
  } catch (error) {
    if (error instanceof InputError) {
      const groups = groupProblems(error.problems);
      return {
        refused: message("compare.refused.input", { count: groups.length, problems: groups.map(withoutCells) }),
      };
    }
    const { code, path: at } = error as NodeJS.ErrnoException;
    if (code === undefined || at === undefined) throw error;
    return { refused: message("compare.refused.cannot-read", { code }) };
  }
}

/**
 * Reads the surveys in the order given, computing those of which only the settings or the data are there. A file that cannot be
 * used gives its reason and stops nothing.
 */
export async function readSurveys(
  surveys: readonly ComparedSurvey[],
  paths: readonly string[],
  options: ReadSurveysOptions,
): Promise<readonly ReadOrRefused[]> {
  const isResults = (path: string): boolean => extname(path).toLowerCase() === ".json";
  const read: ReadOrRefused[] = [];
  // One after the other: the rest of a file is let go before the next is read.
  for (const [at, survey] of surveys.entries()) {
    const path = paths[at] ?? survey.file;
    if (await isOutside(path, options.within)) {
      read.push(surveyOf({ refused: message("compare.refused.outside") }, survey));
    } else if (isResults(path)) read.push(await readResults(path, survey));
    else read.push(surveyOf(await computed(path, survey.file, options), survey));
  }
  return read;
}
