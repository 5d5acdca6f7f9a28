import { spawn } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const root = join(import.meta.dirname, "../..");
const start = join(root, "dist/cli/start.js");

export const sampleFolder = join(root, "sample-input");

export interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the built program as a user does: in a process of its own, in a folder of the user's. */
export const program = (args: readonly string[], folder: string): Promise<Ended> => programAt(start, args, folder);

/** The same with a copy of the program, by the file that starts it. */
export function programAt(path: string, args: readonly string[], folder: string): Promise<Ended> {
  const { SOURCE_DATE_EPOCH: _, ...environment } = process.env;
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [path, ...args], {
      cwd: folder,
      env: environment,
    });
    let out = "";
    let err = "";
    child.stdout.setEncoding("utf8").on("data", (text: string) => (out += text));
    child.stderr.setEncoding("utf8").on("data", (text: string) => (err += text));
    child.on("error", reject);
    child.on("close", (code) => resolve({ code, out, err }));
  });
}

export function newFolder(): string {
  return mkdtempSync(join(tmpdir(), "tareline-whole-"));
}

/** Every file below a folder, hidden and unfinished ones too, by its path with forward slashes. */
export function filesIn(folder: string): Map<string, Buffer> {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => !entry.isDirectory())
    .map((entry) => join(entry.parentPath, entry.name));
  return new Map(
    entries.sort().map((path) => [path.slice(folder.length + 1).replaceAll("\\", "/"), readFileSync(path)] as const),
  );
}

const named: Readonly<Record<string, string>> = {
  lt: "<",
  gt: ">",
  quot: '"',
  apos: "'",
  amp: "&",
};

function unescaped(text: string): string {
  return text.replace(/&(?:#(\d+)|#x([\da-f]+)|(\w+));/gi, (whole, decimal, hexadecimal, name) => {
    if (name !== undefined) return named[name] ?? whole;
    return String.fromCodePoint(Number.parseInt(decimal ?? hexadecimal, decimal === undefined ? 16 : 10));
  });
}

/** The texts of a page that a reader sees or hears: between tags, and in attributes that are read out. Styles are left out. */
export function textsOf(html: string): string[] {
  const page = html.replace(/<style[\s\S]*?<\/style>/g, "");
  const between = page.split(/<[^>]*>/);
  const read = [...page.matchAll(/\s(?:aria-label|title|alt|name="description" content)="([^"]*)"/g)].map(
    (match) => match[1] ?? "",
  );
  return [...between, ...read].map((text) => unescaped(text).trim()).filter((text) => text !== "");
}

/** Signs of a number or text that was not there, in what a reader sees. */
export function slips(html: string): string[] {
  return textsOf(html).filter((text) => /\bNaN\b|\bundefined\b|\bInfinity\b|\[object |\[\[|\]\]|\bnull\b/.test(text));
}

/** Tags with their attributes; a sign of a tag inside a quoted value is part of that value. */
const tag = /<[a-zA-Z](?:[^>"']|"[^"]*"|'[^']*')*>/g;
const fetching = /\s(?:src|href|xlink:href|action|srcset|poster)\s*=\s*["']?(?!#|data:)[^"'\s>]+/i;
const running = /^<(?:script|iframe|object|embed|link|base|form|foreignObject)\b/i;

/** Anything that would reach out of the page or run in it. */
export function reachesOut(html: string): string[] {
  const tags = [...html.matchAll(tag)].map((match) => match[0]);
  const found = tags.filter((text) => {
    const bare = text.replace(/"[^"]*"|'[^']*'/g, '""');
    return (
      running.test(text) || /\son[a-z]+\s*=/i.test(bare) || fetching.test(text.replace(/\saria-label="[^"]*"/, ""))
    );
  });
  const styles = [...html.matchAll(/@import[^;]*|url\(\s*["']?(?!#|data:)[^)]*\)/gi)].map((match) => match[0]);
  return [...found, ...styles].map((text) => text.slice(0, 100));
}
