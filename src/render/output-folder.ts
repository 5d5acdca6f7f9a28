import { mkdir, open, readdir, stat } from "node:fs/promises";
import { dirname, join } from "node:path";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";

/** The results could not be written; `said` tells why and what to do. Whatever stood there before still stands. */
export class OutputProblem extends Error {
  readonly said: Message;
  /** What the user gave needs a change. */
  readonly exitCode = 2;

  constructor(said: Message, options?: ErrorOptions) {
    super(said.id, options);
    this.name = "OutputProblem";
    this.said = said;
  }
}

/** Names that Tareline writes; a folder with any other is not replaced, since somebody's own file would be lost. */
const ownName =
  /^((results|comparison)\.json|([a-z]{2,3}\/)?((report|comparison)\.(html|pdf)|(annex|comparison)\.docx|rows-to-check\.csv|codes-internal\.csv|tables|tables\/([^/]+\.csv|README\.txt))|[a-z]{2,3})$/;
/** What an output is known by: its JSON and the format stated there. A report never takes a comparison's place. */
const kinds = [
  { file: "results.json", format: "tareline-results" },
  { file: "comparison.json", format: "tareline-comparison" },
] as const;
/** Files that file managers leave in every folder they show. */
const clutter = /(^|\/)(\.DS_Store|Thumbs\.db|desktop\.ini)$/;
const mostNamesSaid = 5;

/**
 * Throws OutputProblem unless the folder may be replaced as a whole: it is not there, it is empty, or it holds an
 * earlier output of Tareline of the same kind, known by how its JSON begins, and nothing else. `namesNow` are the files about to be written.
 */
export async function assertReplaceable(folder: string, namesNow: readonly string[]): Promise<void> {
  const state = await stat(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return null;
    throw error;
  });
  if (state === null) return;
  if (!state.isDirectory()) throw new OutputProblem(message("output.not-a-folder", { folder }));
  const names = (await namesBelow(folder)).filter((name) => !clutter.test(name));
  if (names.length === 0) return;
  const kind = kinds.find(({ file }) => namesNow.includes(file)) ?? kinds[0];
  if (!(await isOurs(folder, kind))) {
    throw new OutputProblem(message("output.not-ours", { folder, names: firstOf(names) }));
  }
  const foreign = names.filter((name) => !ownName.test(name) && !namesNow.includes(name));
  if (foreign.length > 0) {
    const values = { folder, count: foreign.length, names: firstOf(foreign) };
    throw new OutputProblem(message("output.foreign-files", values));
  }
}

/**
 * Makes a folder with all above it; returns the first one made, undefined where all were there. Node's own way of doing so never
 * ends where the system takes no folders, as under /proc.
 */
export async function makeFolder(folder: string): Promise<string | undefined> {
  try {
    await mkdir(folder);
    return folder;
  } catch (error) {
    const above = dirname(folder);
    if ((error as NodeJS.ErrnoException).code === "ENOENT" && above !== folder) {
      const made = await makeFolder(above);
      await mkdir(folder);
      return made ?? folder;
    }
    const state = await stat(folder).catch(() => null);
    if (state?.isDirectory() === true) return undefined;
    throw error;
  }
}

/** Paths of everything that is not a folder, and of empty folders, with forward slashes. */
async function namesBelow(folder: string, prefix = ""): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const names = entries.map(async (entry) => {
    const name = prefix + entry.name;
    if (!entry.isDirectory()) return [name];
    const inside = await namesBelow(join(folder, entry.name), `${name}/`);
    return inside.length === 0 ? [name] : inside;
  });
  return (await Promise.all(names)).flat().sort();
}

function firstOf(names: readonly string[]): string[] {
  return names.length > mostNamesSaid ? [...names.slice(0, mostNamesSaid - 1), "…"] : [...names];
}

/** As much of a file as tells what it is: the results of many surveys are too large to be read for that. */
const beginning = 256;

async function isOurs(folder: string, { file, format }: (typeof kinds)[number]): Promise<boolean> {
  const path = join(folder, file);
  const isFile = await stat(path).then(
    (state) => state.isFile(),
    () => false,
  );
  if (!isFile) return false;
  const opened = await open(path);
  try {
    const { buffer, bytesRead } = await opened.read(Buffer.alloc(beginning), 0, beginning, 0);
    const stated = /^\s*\{\s*"format"\s*:\s*"([^"]*)"/.exec(buffer.toString("utf8", 0, bytesRead));
    return stated?.[1] === format;
  } finally {
    await opened.close();
  }
}
