import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { exampleFiles } from "../example/files.js";
import type { Effects } from "./effects.js";

/** `tareline example`: writes the invented surveys, with a description of how they were made. */
export async function exampleCommand(options: { readonly out: string }, effects: Effects): Promise<void> {
  await mkdir(options.out, { recursive: true });
  for (const { name, content } of exampleFiles()) {
    const path = join(options.out, name);
    await writeFile(path, content);
    effects.say(path);
  }
}
