import { readFile } from "node:fs/promises";

/** The bytes of a file that the user named. The error for a folder names no path of its own: it gets one here. */
export async function readNamedFile(path: string): Promise<Buffer> {
  try {
    return await readFile(path);
  } catch (error) {
    throw Object.assign(error as NodeJS.ErrnoException, { path });
  }
}
