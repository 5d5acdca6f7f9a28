import { readFile, writeFile } from "node:fs/promises";
import { basename } from "node:path";
import { recognisesName } from "../describe/column-names.js";
import { draft } from "../describe/draft.js";
import { readCsv } from "../read/csv.js";
import { loadWords } from "../render/words.js";
import { UsageError } from "./clock.js";
import type { Effects } from "./effects.js";

export interface DescribeOptions {
  readonly out?: string;
}

/** `tareline describe`: drafts the settings file of a data file, on standard output or in a new file. */
export async function describeCommand(path: string, options: DescribeOptions, effects: Effects): Promise<void> {
  const table = await readCsv(await readFile(path), basename(path), { recognises: recognisesName });
  const text = draft(table, (said) => loadWords("en").text(said));
  if (options.out === undefined) {
    effects.out(text);
    return;
  }
  try {
    await writeFile(options.out, text, { flag: "wx" });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
    throw new UsageError(loadWords("en").text({ id: "cli.draft-exists", values: { path: options.out } }));
  }
  effects.say(loadWords("en").text({ id: "cli.draft-written", values: { path: options.out } }));
}
