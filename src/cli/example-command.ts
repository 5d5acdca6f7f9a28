import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { ExampleFile } from "../example/example-file.js";
import { exampleFiles } from "../example/files.js";
import { message } from "../results/message.js";
import type { Effects } from "./effects.js";
import { UsageError } from "./usage-error.js";

/** True where a file of that name stands in the folder with another content: somebody's own, or an edited example. */
async function isForeign(folder: string, { name, content }: ExampleFile): Promise<boolean> {
  try {
    return (await readFile(join(folder, name), "utf8")) !== content;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return false;
    throw error;
  }
}

/**
 * `tareline example`: writes the invented surveys, with a description of how they were made. No file with another content
 * is replaced: where one stands in the way nothing is written.
 */
export async function exampleCommand(options: { readonly out: string }, effects: Effects): Promise<void> {
  const folder = options.out;
  await mkdir(folder, { recursive: true });
  const files = exampleFiles();
  const foreign = await Promise.all(files.map((file) => isForeign(folder, file)));
  const names = files.filter((_, i) => foreign[i]).map(({ name }) => name);
  if (names.length > 0) throw new UsageError(message("cli.example-exists", { folder, names, count: names.length }));
  for (const { name, content } of files) {
    const path = join(folder, name);
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, content);
    effects.say(path);
  }
}
