import { readdirSync, readFileSync } from "node:fs";
import { join, posix } from "node:path";
import { describe, expect, it } from "vitest";

/**
 * The layout table of DEVELOPERS.md is the rule: which room may import from which. Circles of files are the linter's.
 */
const root = join(import.meta.dirname, "..");

interface Room {
  readonly may: readonly string[];
  readonly mayTypes: readonly string[];
}

/** The rows of the table: `src/<room>` in the first column, the rooms it may import from in the last. */
function roomsOf(document: string): Map<string, Room> {
  const rooms = new Map<string, Room>();
  for (const [, first = "", last = ""] of document.matchAll(/^\|\s*(`src\/[^|]*?)\s*\|[^|]*\|\s*([^|]*?)\s*\|$/gm)) {
    const all = last === "all" || last === "nothing of ours" ? [] : last.split(/,\s*/);
    const mayTypes = all.filter((name) => name.endsWith(" (types)")).map((name) => name.slice(0, -" (types)".length));
    const may = last === "all" ? ["*"] : all.filter((name) => !name.endsWith(" (types)"));
    for (const [, room = ""] of first.matchAll(/`src\/([\w.-]+)`/g)) rooms.set(room, { may, mayTypes });
  }
  return rooms;
}

interface Import {
  readonly from: string;
  readonly to: string;
  readonly typesOnly: boolean;
}

const roomOf = (path: string): string => path.split("/")[1] ?? "";

/** Every relative import of a source file, statements and calls alike. */
function importsOf(path: string, text: string): Import[] {
  const found: Import[] = [];
  const pattern = /\b(?:import|export)\b(\s+type\b)?[^;"]*?["'](\.{1,2}\/[^"']+)["']/g;
  for (const [, type, target = ""] of text.matchAll(pattern)) {
    const to = posix.join(posix.dirname(path), target).replace(/\.js$/, ".ts");
    found.push({ from: path, to, typesOnly: type !== undefined });
  }
  return found;
}

const isAllowed = (rooms: ReadonlyMap<string, Room>, { from, to, typesOnly }: Import): boolean => {
  if (!to.startsWith("src/")) return to.startsWith("templates/") || to === "package.json";
  const [own, other] = [roomOf(from), roomOf(to)];
  const rule = rooms.get(own);
  if (rule === undefined) return false;
  return (
    own === other || rule.may.includes("*") || rule.may.includes(other) || (typesOnly && rule.mayTypes.includes(other))
  );
};

const files = readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" })
  .map((name) => `src/${name.replaceAll("\\", "/")}`)
  .filter((name) => name.endsWith(".ts"));

describe("the layout", () => {
  const rooms = roomsOf(readFileSync(join(root, "DEVELOPERS.md"), "utf8"));

  it("has a line for every folder and file of src", () => {
    const there = new Set(files.map(roomOf));
    expect([...rooms.keys()].sort()).toEqual([...there].sort());
  });

  it("is kept: no file imports from a room that its line does not name", () => {
    const all = files.flatMap((path) => importsOf(path, readFileSync(join(root, path), "utf8")));
    expect(all.length).toBeGreaterThan(files.length);
    const broken = all.filter((one) => !isAllowed(rooms, one)).map(({ from, to }) => `${from} imports ${to}`);
    expect(broken).toEqual([]);
  });

  it("would see a forbidden import, of a value or of a type", () => {
    const seen = (text: string) => importsOf("src/stats/x.ts", text).map((one) => isAllowed(rooms, one));
    expect(seen('import { a } from "../derive/age.js";')).toEqual([false]);
    expect(seen('import type { a } from "../derive/age.js";\nconst b = await import("../cli/main.js");')).toEqual([
      false,
      false,
    ]);
    expect(seen('import { a } from "./f.js";')).toEqual([true]);
  });
});
