import { readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { slug } from "../describe/make-settings.js";
import type { OutputFile } from "../render/write.js";
import { message } from "../results/message.js";
import { type Results, resultsSchema } from "../results/schema.js";
import type { Effects } from "./effects.js";
import { wordsOf } from "./language.js";
import { readNamedFile } from "./read-file.js";
import { pathsToSay, type ReportOptions, writeOutput } from "./report-command.js";
import { UsageError } from "./usage-error.js";

function parsed(text: string, path: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new UsageError(message("cli.usage.not-json", { path }));
  }
}

/**
 * The results in a file's text, in the order in which they stand there, so that they are written again byte for byte. A
 * name that is no plain folder name is refused: it says where the output goes.
 */
function resultsIn(text: string, path: string): Results {
  const raw = parsed(text, path);
  const checked = resultsSchema.safeParse(raw);
  if (!checked.success) {
    const where = checked.error.issues[0]?.path.join(".") ?? "";
    throw new UsageError(message("cli.usage.not-results", { path, where }));
  }
  const { name } = checked.data.survey;
  if (name === "" || slug(name) !== name) {
    throw new UsageError(message("cli.usage.not-results", { path, where: "survey.name" }));
  }
  return raw as Results;
}

/** The list of rows that stands beside the results: it cannot be made again without the data, so it is kept. */
async function rowsBeside(path: string): Promise<OutputFile[]> {
  const name = "rows-to-check.csv";
  const content = await readFile(join(dirname(path), name)).catch(() => null);
  return content === null ? [] : [{ name, content }];
}

/** `tareline render`: draws a report again from its results.json, without the data. */
export async function renderCommand(
  path: string,
  options: Pick<ReportOptions, "out" | "browser" | "pdf" | "language">,
  effects: Effects,
): Promise<void> {
  const results = resultsIn((await readNamedFile(path)).toString("utf8"), path);
  const words = wordsOf(options.language ?? results.survey.language);
  const kept = await rowsBeside(path);
  const paths = await writeOutput(results, { rows: null, kept }, options, effects, words, () => {});
  for (const line of pathsToSay(paths)) effects.say(line);
}
