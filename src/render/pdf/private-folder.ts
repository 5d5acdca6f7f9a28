import { lstatSync, mkdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, isAbsolute, join } from "node:path";

/** Where this user's cache may stand, best first: the XDG cache folder, `~/.cache`, the folder for temporary files. */
export function cacheFolders(environment: NodeJS.ProcessEnv): readonly string[] {
  const folders: string[] = [];
  const xdg = environment.XDG_CACHE_HOME ?? "";
  // The XDG Base Directory Specification has relative paths ignored.
  if (isAbsolute(xdg)) folders.push(join(xdg, "tareline"));
  const home = environment.HOME ?? "";
  if (isAbsolute(home)) folders.push(join(home, ".cache", "tareline"));
  folders.push(join(tmpdir(), `tareline-cache-${process.getuid?.() ?? "user"}`));
  return folders;
}

/**
 * Makes a folder with all above it. Node's own way of doing so never ends where the system takes no folders, as under /proc.
 */
function makePrivate(folder: string): void {
  try {
    mkdirSync(folder, { mode: 0o700 });
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    const above = dirname(folder);
    if (code === "EEXIST") return;
    if (code !== "ENOENT" || above === folder) throw error;
    makePrivate(above);
    mkdirSync(folder, { mode: 0o700 });
  }
}

/**
 * Makes a folder that only this user can write, or throws. What lies in it is run as a program, so one that belongs to
 * somebody else, that others may write, or that is a link is refused. This also keeps users apart where one works with
 * the home of another.
 */
export function privateFolder(folder: string): string {
  makePrivate(folder);
  const state = lstatSync(folder);
  if (!state.isDirectory()) throw new Error("it is not a folder");
  if (process.getuid !== undefined && state.uid !== process.getuid()) throw new Error("it belongs to another user");
  if ((state.mode & 0o022) !== 0) throw new Error("other users may write in it");
  return folder;
}
