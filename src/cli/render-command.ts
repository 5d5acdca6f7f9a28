import { readFile } from "node:fs/promises";
import { loadWords } from "../render/words.js";
import { resultsSchema } from "../results/schema.js";
import { UsageError } from "./clock.js";
import type { Effects } from "./effects.js";
import { type ReportOptions, writeOutput } from "./report-command.js";

function parsed(text: string, path: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new UsageError(`${path} is not JSON. Give the results.json of an earlier report.`);
  }
}

/** `tareline render`: draws a report again from its results.json, without the data. */
export async function renderCommand(
  path: string,
  options: Pick<ReportOptions, "out" | "browser" | "pdf" | "language">,
  effects: Effects,
): Promise<void> {
  const checked = resultsSchema.safeParse(parsed(await readFile(path, "utf8"), path));
  if (!checked.success) {
    const where = checked.error.issues[0]?.path.join(".") ?? "";
    throw new UsageError(`${path} is not a results.json of this version of Tareline (first difference at: ${where}).`);
  }
  const words = loadWords(options.language ?? checked.data.survey.language);
  const paths = await writeOutput(checked.data, null, options, effects, words, () => {});
  for (const line of paths) effects.say(line);
}
