import { readFileSync } from "node:fs";
import { expect } from "vitest";

/** Fails unless `actual` is within a relative distance of `expected` (absolute where 0 is expected). */
export function expectClose(actual: number, expected: number, relative = 1e-8, what = ""): void {
  const distance = Math.abs(actual - expected);
  const allowed = expected === 0 ? 1e-12 : Math.abs(expected) * relative;
  expect(distance <= allowed, `${what} ${actual} is not ${expected}`).toBe(true);
}

/** A JSON file of reference results. */
// biome-ignore lint/suspicious/noExplicitAny: the files are deep and irregular; each test reads what it names.
export function knownValues(name: string): any {
  return JSON.parse(readFileSync(new URL(`../known-values/stats/${name}`, import.meta.url), "utf8"));
}

/** Columns of a comma-separated file with quoted text and a header. */
export function knownColumns(name: string): Map<string, string[]> {
  const [header, ...lines] = readFileSync(new URL(`../known-values/stats/${name}`, import.meta.url), "utf8")
    .trim()
    .split("\n")
    .map((line) => line.split(",").map((cell) => cell.replace(/^"|"$/g, "")));
  return new Map((header as string[]).map((column, i) => [column, lines.map((line) => line[i] as string)]));
}

/** Codes of labels in order of first appearance. */
export function coded(labels: readonly string[]): { readonly codes: Int32Array; readonly labels: string[] } {
  const seen = [...new Set(labels)];
  return { codes: Int32Array.from(labels, (label) => seen.indexOf(label)), labels: seen };
}
