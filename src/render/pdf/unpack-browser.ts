import { execFile } from "node:child_process";
import { randomBytes } from "node:crypto";
import { createReadStream, createWriteStream, readFileSync, statSync } from "node:fs";
import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { pipeline } from "node:stream/promises";
import { promisify } from "node:util";
import { brotliDecompress, createBrotliDecompress } from "node:zlib";
import { fontsConf } from "./fonts-conf.js";
import { readTar } from "./tar.js";

export interface Unpacking {
  readonly packageFolder: string;
  /** Where the browser shall stand; its parent exists and is private. */
  readonly folder: string;
  readonly home: string;
  /** Variables the browser needs once it stands in `folder`. */
  readonly environment: Readonly<Record<string, string>>;
}

/** The list of what was unpacked: its last file, so that a folder without it is not whole. */
const listName = "contents.json";
type Contents = readonly { readonly name: string; readonly size: number }[];
const abandonedAfterMilliseconds = 3_600_000;

/** True when the folder holds every file that was unpacked, at its size: a cleaner of old files may have been there. */
export function isUnpacked(folder: string): boolean {
  try {
    const contents = JSON.parse(readFileSync(join(folder, listName), "utf8")) as Contents;
    return contents.every(({ name, size }) => statSync(join(folder, name)).size === size);
  } catch {
    return false;
  }
}

/**
 * Unpacks into a new folder beside the wanted one, tries the browser there, and renames it into place. Several
 * processes may do so at once: the first rename wins and the others use its result.
 */
export async function unpackBrowser(unpacking: Unpacking): Promise<void> {
  const { folder } = unpacking;
  await removeAbandoned(folder);
  const fresh = besides(folder, "unpacking");
  await mkdir(fresh, { mode: 0o700 });
  try {
    await fill(fresh, unpacking);
    await tryOut(fresh, unpacking.environment, folder);
    await moveIntoPlace(fresh, folder);
  } finally {
    await rm(fresh, { recursive: true, force: true });
  }
}

async function fill(fresh: string, { packageFolder, folder, home }: Unpacking): Promise<void> {
  const bin = join(packageFolder, "bin");
  const names = ["chromium", "fonts.conf"];
  const executable = createWriteStream(join(fresh, "chromium"), {
    mode: 0o700,
    flags: "wx",
  });
  await pipeline(createReadStream(join(bin, "chromium.br")), createBrotliDecompress(), executable);
  names.push(...(await unpackArchive(join(bin, "al2023.tar.br"), fresh, "lib/")));
  names.push(...(await unpackArchive(join(bin, "fonts.tar.br"), fresh, "fonts/")));
  await writeFile(join(fresh, "fonts.conf"), fontsConf(folder, home));
  const contents = await Promise.all(
    names.map(async (name) => ({
      name,
      size: (await stat(join(fresh, name))).size,
    })),
  );
  await writeFile(join(fresh, listName), JSON.stringify(contents));
}

async function unpackArchive(archive: string, fresh: string, below: string): Promise<string[]> {
  const names: string[] = [];
  const tar = await promisify(brotliDecompress)(await readFile(archive));
  for (const file of readTar(tar)) {
    if (!file.name.startsWith(below)) continue;
    const target = join(fresh, file.name);
    await mkdir(dirname(target), { recursive: true, mode: 0o700 });
    await writeFile(target, file.content, {
      mode: file.mode & 0o700,
      flag: "wx",
    });
    names.push(file.name);
  }
  return names;
}

/** Starts the browser only to ask for its version: fails where a library is missing or the disk forbids programs. */
async function tryOut(fresh: string, environment: Readonly<Record<string, string>>, folder: string): Promise<void> {
  const moved = Object.entries(environment).map(([name, value]) => [name, value.replaceAll(folder, fresh)]);
  const env = { ...process.env, ...Object.fromEntries(moved) };
  await promisify(execFile)(join(fresh, "chromium"), ["--version"], {
    env,
    timeout: 30_000,
  });
}

async function moveIntoPlace(fresh: string, folder: string): Promise<void> {
  try {
    await rename(fresh, folder);
  } catch (error) {
    if (isUnpacked(folder)) return;
    const code = (error as NodeJS.ErrnoException).code ?? "";
    if (!["ENOTEMPTY", "EEXIST", "ENOTDIR"].includes(code)) throw error;
    const damaged = besides(folder, "damaged");
    await rename(folder, damaged);
    await rename(fresh, folder);
    await rm(damaged, { recursive: true, force: true });
  }
}

/** Clears away what an interrupted run left; one that is still unpacking is far younger. */
async function removeAbandoned(folder: string): Promise<void> {
  const parent = dirname(folder);
  const prefix = `.${basename(folder)}.`;
  for (const name of await readdir(parent)) {
    if (!name.startsWith(prefix)) continue;
    const path = join(parent, name);
    const state = await stat(path).catch(() => null);
    if (state !== null && Date.now() - state.mtimeMs > abandonedAfterMilliseconds) {
      await rm(path, { recursive: true, force: true });
    }
  }
}

function besides(folder: string, purpose: string): string {
  return join(dirname(folder), `.${basename(folder)}.${purpose}-${randomBytes(6).toString("hex")}`);
}
