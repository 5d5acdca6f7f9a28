import { writeFile } from "node:fs/promises";
import { basename, dirname, relative, resolve, sep } from "node:path";
import { recognisesName } from "../describe/column-names.js";
import { draft } from "../describe/draft.js";
import { readCsv } from "../read/csv.js";
import { loadWords } from "../render/words.js";
import { message } from "../results/message.js";
import type { Effects } from "./effects.js";
import { readNamedFile } from "./read-file.js";
import { UsageError } from "./usage-error.js";

export interface DescribeOptions {
  readonly out?: string;
}

/**
 * The draft names its data by the file's name alone, while settings are read from their own folder: where the draft goes
 * elsewhere, the way from there to the data takes the name's place.
 */
function withPathFrom(text: string, dataPath: string, folder: string): string {
  const path = relative(folder, resolve(dataPath)).split(sep).join("/");
  return path.includes("/") ? text.replace(/^data: .*$/m, () => `data: ${JSON.stringify(path)}`) : text;
}

/** `tareline describe`: drafts the settings file of a data file, on standard output or in a new file. */
export async function describeCommand(path: string, options: DescribeOptions, effects: Effects): Promise<void> {
  const table = await readCsv(await readNamedFile(path), basename(path), {
    recognises: recognisesName,
  });
  const folder = resolve(options.out === undefined ? "." : dirname(options.out));
  const text = withPathFrom(
    draft(table, (said) => loadWords("en").text(said)),
    path,
    folder,
  );
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
  effects.say(
    loadWords("en").text({
      id: "cli.draft-written",
      values: { path: options.out },
    }),
  );
}
