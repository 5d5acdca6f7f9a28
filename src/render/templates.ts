import { existsSync, readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../templates/", import.meta.url));
const kept = new Map<string, Buffer>();

/** Bytes of one of the project's own files under templates/, read once. Nothing of the survey is ever read here. */
export function templateBytes(path: string): Buffer {
  let bytes = kept.get(path);
  if (bytes === undefined) {
    bytes = readFileSync(`${root}${path}`);
    kept.set(path, bytes);
  }
  return bytes;
}

/** Text of one of the project's own files under templates/. */
export function templateText(path: string): string {
  return templateBytes(path).toString("utf8");
}

/** Names of the files in a folder of templates/ with this ending, sorted; empty when there is no such folder. */
export function templateNames(folder: string, ending: string): string[] {
  if (!existsSync(`${root}${folder}`)) return [];
  return readdirSync(`${root}${folder}`)
    .filter((name) => name.endsWith(ending))
    .sort();
}

/** True when templates/ holds this file. */
export function hasTemplate(path: string): boolean {
  return existsSync(`${root}${path}`);
}
