import { writeFile } from "node:fs/promises";
import { dirname, relative, resolve, sep } from "node:path";
import { type DataPlace, draft } from "../describe/draft.js";
import type { TextTable } from "../read/table.js";
import { withoutIsolates } from "../render/isolate.js";
import type { Words } from "../render/words.js";
import { message } from "../results/message.js";
import type { Effects } from "./effects.js";
import { loadTable } from "./input.js";
import { interview } from "./interview.js";
import { wordsOf } from "./language.js";
import { sayingIn } from "./saying-in.js";
import { UsageError } from "./usage-error.js";

export interface DescribeOptions {
  readonly out?: string;
  /** The sheet or table with one row a child. */
  readonly sheet?: string;
  /** Language of the questions and of the draft's remarks; English when not given. */
  readonly language?: string;
}

/**
 * The draft names its data by the file's name alone, while settings are read from their own folder: where the draft goes
 * elsewhere, the way from there to the data takes the name's place. Of several sheets or tables, the one read is named too.
 */
function dataPlace(table: TextTable, dataPath: string, folder: string, stated: boolean): DataPlace {
  const file = relative(folder, resolve(dataPath)).split(sep).join("/");
  const sheet = table.container?.table;
  const chosen = stated || table.notes?.some((note) => note.id === "table-chosen") === true;
  if (sheet !== undefined && chosen) return { file, sheet };
  return file.includes("/") ? file : table.file;
}

/**
 * `tareline describe`: drafts the settings file of a data file, on standard output or in a new file. A person at the terminal is asked
 * what is left open; in a pipe the questions stay in the draft.
 */
export async function describeCommand(path: string, options: DescribeOptions, effects: Effects): Promise<void> {
  const words = wordsOf(options.language ?? "en");
  await sayingIn(words, () => describeIn(words, path, options, effects));
}

async function describeIn(words: Words, path: string, options: DescribeOptions, effects: Effects): Promise<void> {
  const table = await loadTable(path, options.sheet === undefined ? {} : { sheet: options.sheet });
  const folder = resolve(options.out === undefined ? "." : dirname(options.out));
  const answers = await interview(table, effects, words);
  const data = dataPlace(table, path, folder, options.sheet !== undefined);
  const { text, openLines } = draft(table, (said) => withoutIsolates(words.text(said)), answers, data);
  if (options.out === undefined) {
    effects.out(text);
    return;
  }
  try {
    await writeFile(options.out, text, { flag: "wx" });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
    throw new UsageError(message("cli.draft-exists", { path: options.out }));
  }
  // Settings may not name data outside their own folder: these have to be named when the report is made.
  const outside = relative(folder, resolve(path)).startsWith("..");
  const lines = openLines.map(String);
  const place = outside ? "cli.draft-written-elsewhere" : "cli.draft-written";
  const said = { path: options.out, data: path, lines, count: lines.length };
  if (lines.length > 0) effects.say(words.text(message("cli.draft-open", said)));
  effects.say(words.text(message(place, said)));
}
