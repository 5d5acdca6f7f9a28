import { randomBytes } from "node:crypto";
import { rmSync } from "node:fs";
import { lstat, mkdir, open, readdir, realpath, rename, rm, rmdir } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { message } from "../results/message.js";
import type { MessageId } from "../results/message-ids.js";
import { assertReplaceable, makeFolder, OutputProblem } from "./output-folder.js";

/** A file of the output. */
export interface OutputFile {
  /** Path below the output folder, with forward slashes: `report.html`, `tables/weight-digits.csv`. */
  readonly name: string;
  /** Text is written as UTF-8. */
  readonly content: string | Uint8Array;
}

export interface Written {
  /** The output folder, as an absolute path. */
  readonly folder: string;
  /** Absolute paths, in the order given. */
  readonly paths: readonly string[];
  /** Earlier output that could not be removed after it was replaced. */
  readonly leftBehind: readonly string[];
}

const abandonedAfterMilliseconds = 3_600_000;
const mostAttempts = 20;

/**
 * Writes the whole output or none of it: every file goes into a new folder beside the wanted one, which then takes its
 * place in one rename. An earlier output of Tareline is replaced as a whole; a folder with anybody else's files is
 * refused. Throws OutputProblem.
 */
export async function writeReport(folder: string, files: readonly OutputFile[]): Promise<Written> {
  for (const file of files) assertName(file.name);
  const wanted = await realpath(folder).catch(() => resolve(folder));
  const names = files.map((file) => file.name);
  let made: string | undefined;
  let fresh: string | undefined;
  const clear = (): void => {
    if (fresh !== undefined) rmSync(fresh, { recursive: true, force: true });
  };
  try {
    await restoreAbandoned(wanted);
    await assertReplaceable(wanted, names);
    made = await makeFolder(dirname(wanted));
    await removeAbandoned(wanted);
    fresh = beside(wanted, "writing");
    process.once("exit", clear);
    await mkdir(fresh);
    await writeAll(fresh, files);
    const leftBehind = await swapIn(fresh, wanted, names);
    return {
      folder: wanted,
      paths: names.map((name) => join(wanted, name)),
      leftBehind,
    };
  } catch (error) {
    if (fresh !== undefined) await rm(fresh, { recursive: true, force: true });
    if (made !== undefined) await removeEmpty(dirname(wanted), made);
    throw error instanceof OutputProblem ? error : problemOf(error, wanted);
  } finally {
    process.off("exit", clear);
  }
}

function assertName(name: string): void {
  const parts = name.split("/");
  if (parts.some((part) => part === "" || part === "." || part === "..") || /[\\:\0]/.test(name)) {
    throw new Error(`'${name}' is not a path below the output folder`);
  }
}

/** Files that are on their way to the disk at a time. */
const atATime = 8;

/** Writes the files into the folder. Ends, also where one cannot be written, only when none is being written any more. */
async function writeAll(folder: string, files: readonly OutputFile[]): Promise<void> {
  for (let first = 0; first < files.length; first += atATime) {
    const some = files.slice(first, first + atATime);
    const written = await Promise.allSettled(some.map(({ name, content }) => writeWhole(join(folder, name), content)));
    for (const one of written) if (one.status === "rejected") throw one.reason;
  }
}

/** The file is on the disk, not only on its way there, when this returns: a full disk shows before the rename. */
async function writeWhole(path: string, content: OutputFile["content"]): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const file = await open(path, "wx");
  try {
    await file.writeFile(content);
    await file.sync();
  } finally {
    await file.close();
  }
}

/**
 * Puts the new folder in the old one's place. What stands there goes aside first, comes back if the new one cannot
 * take its place, and is removed if it can. Tries again when another run has put its own result there in between.
 * Returns what could not be removed.
 */
async function swapIn(fresh: string, wanted: string, names: readonly string[]): Promise<string[]> {
  const asides: string[] = [];
  for (let attempt = 1; ; attempt += 1) {
    const aside = beside(wanted, "earlier");
    if (await renamed(wanted, aside)) asides.push(aside);
    try {
      await rename(fresh, wanted);
      break;
    } catch (error) {
      const another = ["EEXIST", "ENOTEMPTY"].includes((error as NodeJS.ErrnoException).code ?? "");
      // A folder that another run moves away while it is looked at is no refusal: only one with foreign files is.
      const refused = another
        ? await assertReplaceable(wanted, names).then(
            () => null,
            (reason) => (reason instanceof OutputProblem ? reason : null),
          )
        : null;
      if (another && refused === null && attempt < mostAttempts) continue;
      await putBack(asides, wanted);
      throw refused ?? error;
    }
  }
  const removals = await Promise.allSettled(asides.map((aside) => rm(aside, { recursive: true, force: true })));
  return asides.filter((_, index) => removals[index]?.status === "rejected");
}

/** The latest earlier output goes back in its place; what lies aside once something stands there has been replaced. */
async function putBack(asides: readonly string[], wanted: string): Promise<void> {
  const latest = asides.at(-1);
  if (latest !== undefined) await rename(latest, wanted).catch(() => undefined);
  const stands = await lstat(wanted).then(
    () => true,
    () => false,
  );
  if (stands) await Promise.allSettled(asides.map((path) => rm(path, { recursive: true, force: true })));
}

/** False when there was nothing to rename. */
async function renamed(from: string, to: string): Promise<boolean> {
  try {
    await rename(from, to);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return false;
    throw error;
  }
}

function beside(folder: string, purpose: "writing" | "earlier"): string {
  return join(dirname(folder), `.${basename(folder)}.tareline-${purpose}-${randomBytes(6).toString("hex")}`);
}

/** Paths of what runs have put beside the wanted folder: unfinished output, or earlier output moved aside. */
async function foldersBeside(wanted: string, purpose: "writing" | "earlier"): Promise<string[]> {
  const prefix = `.${basename(wanted)}.tareline-${purpose}-`;
  const names = await readdir(dirname(wanted)).catch(() => []);
  return names.filter((name) => name.startsWith(prefix)).map((name) => join(dirname(wanted), name));
}

/** Puts back the earlier output of a run that was killed between moving it aside and putting its own in its place. */
async function restoreAbandoned(wanted: string): Promise<void> {
  if ((await lstat(wanted).catch(() => null)) !== null) return;
  const [aside] = await foldersBeside(wanted, "earlier");
  if (aside !== undefined) await rename(aside, wanted).catch(() => undefined);
}

/** Clears away what runs that were killed have left; what belongs to one that still writes is far younger. */
async function removeAbandoned(wanted: string): Promise<void> {
  for (const purpose of ["writing", "earlier"] as const) {
    for (const path of await foldersBeside(wanted, purpose)) {
      const state = await lstat(path).catch(() => null);
      if (state === null) continue;
      // Moving a folder aside changes only the time of the change of its name.
      const since = purpose === "writing" ? state.mtimeMs : state.ctimeMs;
      if (Date.now() - since > abandonedAfterMilliseconds) await rm(path, { recursive: true, force: true });
    }
  }
}

/** Removes the parent folders that this run made, from the innermost up to `first`, as far as they are empty. */
async function removeEmpty(innermost: string, first: string): Promise<void> {
  for (let folder = innermost; folder.startsWith(first); folder = dirname(folder)) {
    try {
      await rmdir(folder);
    } catch {
      return;
    }
  }
}

const windows = process.platform === "win32";
const problems: Readonly<Record<string, MessageId>> = {
  EACCES: "output.not-permitted",
  // Windows says so when a file of the folder is open elsewhere.
  EPERM: windows ? "output.in-use" : "output.not-permitted",
  EROFS: "output.not-permitted",
  ENOSPC: "output.disk-full",
  EDQUOT: "output.disk-full",
  EBUSY: windows ? "output.in-use" : "output.own-volume",
  ENOTDIR: "output.not-a-folder",
};

function problemOf(error: unknown, folder: string): OutputProblem {
  const { code = "", message: detail } = error as NodeJS.ErrnoException;
  const id = problems[code];
  const said = message(id ?? "output.failed", id === undefined ? { folder, detail } : { folder });
  return new OutputProblem(said, { cause: error });
}
