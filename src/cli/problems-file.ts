import { randomBytes } from "node:crypto";
import { open, readFile, rename, rm } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { problemsCsv, problemsHeader, separatorsOf } from "../render/csv.js";
import { makeFolder } from "../render/output-folder.js";
import { loadWords, type Words } from "../render/words.js";
import type { Message } from "../results/schema.js";
import { slug } from "../settings/make-settings.js";
import { type InputProblem, problemLine } from "../settings/problems.js";
import { knownLanguages } from "./language.js";

const textOf =
  (words: Words) =>
  (said: Message): string =>
    words.text(said);

/** Where the problems of a data or settings file are listed: beside the output folders, so that an earlier report stays whole. */
export function problemsPath(out: string, path: string): string {
  const name = slug(basename(path).replace(/\.[A-Za-z0-9]{1,5}$/, "")) || "survey";
  return join(resolve(out), `${name}-problems.csv`);
}

/** Whether nothing, or an earlier list of this program, stands there: nobody's own file is written over. */
async function isOurs(path: string): Promise<boolean> {
  try {
    const text = await readFile(path, "utf8");
    return knownLanguages().some((language) =>
      text.startsWith(problemsHeader(textOf(loadWords(language)), separatorsOf(language))),
    );
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "ENOENT";
  }
}

/**
 * Writes every problem of the input, one a line. The file appears whole or not at all. Null where it cannot be written or
 * somebody's own file stands there: the terminal has the first of each kind.
 */
export async function writeProblems(
  path: string,
  problems: readonly InputProblem[],
  words: Words,
): Promise<string | null> {
  if (!(await isOurs(path))) return null;
  const fresh = `${path}.${randomBytes(6).toString("hex")}.writing`;
  try {
    await makeFolder(dirname(path));
    const file = await open(fresh, "wx");
    try {
      await file.writeFile(problemsCsv(problems.map(problemLine), textOf(words), separatorsOf(words.language)));
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(fresh, path);
    return path;
  } catch (error) {
    await rm(fresh, { force: true }).catch(() => undefined);
    // What the file system refuses is no reason to hide the problems themselves; anything else is a fault of ours.
    if ((error as NodeJS.ErrnoException).code === undefined) throw error;
    return null;
  }
}

/** Removes the list of an earlier run, once there are no more problems. */
export async function removeProblems(path: string): Promise<void> {
  if (await isOurs(path)) await rm(path, { force: true }).catch(() => undefined);
}
