import { readdir, readFile, realpath, stat } from "node:fs/promises";
import { basename, join, sep } from "node:path";
import { usualLimits } from "../read/limits.js";
import type { ReadOptions } from "../read/options.js";
import { InputError, inputProblem } from "../read/problem.js";
import { isTableName, type NamedBytes, readData, readFolder } from "../read/read-data.js";
import type { TextTable } from "../read/table.js";

/** The most bytes that Node reads of a file at once. */
const mostBytes = 2 ** 31 - 1;
/** The most bytes of a settings or results file: results of the largest surveys take a hundredth of it. Our choice, no source. */
export const mostTextBytes = 200_000_000;

/**
 * The bytes of a file that the user named; no more than `limit`. The error for a folder names no path of its own: it gets
 * one here.
 */
export async function readNamedFile(path: string, limit = mostBytes): Promise<Buffer> {
  assertPossible(path);
  try {
    const found = await stat(path);
    // A pipe or a device may never end.
    if (!found.isFile() && !found.isDirectory()) throw new InputError([inputProblem("not-a-file", basename(path))]);
    if (found.isFile() && found.size > limit) throw tooLarge(path, limit);
    return await readFile(path);
  } catch (error) {
    throw error instanceof InputError ? error : Object.assign(error as NodeJS.ErrnoException, { path });
  }
}

/** The text of a settings or results file. */
export async function readNamedText(path: string): Promise<string> {
  return (await readNamedFile(path, mostTextBytes)).toString("utf8");
}

/** The same; empty where there is nothing that can be read. */
export async function textOrNothing(path: string): Promise<string> {
  return readNamedText(path).catch(() => "");
}

function tooLarge(path: string, limit = mostBytes): InputError {
  const details = { what: "packed", limit };
  return new InputError([inputProblem("file-too-large", basename(path), { details })]);
}

/** No file system has a name with a zero in it; Node would take one for a fault of the program. */
function assertPossible(path: string): void {
  if (path.includes("\0")) throw Object.assign(new Error("no such name"), { code: "ENOENT", path, syscall: "open" });
}

/** The tables of a folder, those of its own and none of a folder within. */
async function readTables(folder: string, within: string | null): Promise<NamedBytes[]> {
  const names = (await readdir(folder)).filter(isTableName).sort();
  if (names.length > usualLimits.entries) {
    const details = { what: "entries", limit: usualLimits.entries };
    throw new InputError([inputProblem("file-too-large", basename(folder), { details })]);
  }
  const tables: NamedBytes[] = [];
  let total = 0;
  for (const name of names) {
    const path = await checkedPath(join(folder, name), within);
    if ((await stat(path)).isDirectory()) continue;
    const bytes = await readNamedFile(path);
    total += bytes.length;
    if (total > usualLimits.unpackedBytes) throw tooLarge(folder);
    tables.push({ name, bytes });
  }
  return tables;
}

/** The path with all links followed. Throws InputError where it leads out of the folder that it has to stay in. */
export async function checkedPath(path: string, within: string | null): Promise<string> {
  assertPossible(path);
  if (within === null) return path;
  const [real, folder] = await Promise.all([realpath(path), realpath(within)]);
  if (real === folder || real.startsWith(folder.endsWith(sep) ? folder : folder + sep)) return real;
  throw new InputError([inputProblem("data-outside-folder", basename(path), { value: path })]);
}

/**
 * Reads a data file, or a folder of tables, as one table. With `within`, nothing outside that folder is read, wherever links
 * may lead.
 */
export async function readDataAt(path: string, options: ReadOptions, within: string | null = null): Promise<TextTable> {
  const name = basename(path);
  const real = await checkedPath(path, within);
  const isFolder = (await stat(real)).isDirectory();
  if (isFolder) return readFolder(await readTables(real, within), name, options);
  return readData(await readNamedFile(real), name, options);
}
