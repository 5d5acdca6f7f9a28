import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { problemKinds } from "../src/read/problem.js";
import { idsShown, messageIdType, messagePage, noProblem } from "./tools/message-page.js";

const read = (path: string): string => readFileSync(join(import.meta.dirname, "..", path), "utf8");
const words = new Map(Object.entries(JSON.parse(read("templates/locales/en.json")) as Record<string, string>));
const page = read("templates/messages.md");

describe("the type of message ids", () => {
  it("is what the words give now (tests/tools/write-messages.mjs writes it)", () => {
    expect(words.size).toBeGreaterThan(2000);
    const same = read("src/results/message-ids.ts") === messageIdType([...words.keys()]);
    expect(same, "run node tests/tools/write-messages.mjs").toBe(true);
  });
});

describe("the page of all messages", () => {
  it("is what the words and the closed lists give now (tests/tools/write-messages.mjs writes it)", () => {
    expect(page === messagePage(words), "run node tests/tools/write-messages.mjs").toBe(true);
  });

  it("shows every message that tells of a problem", () => {
    const shown = idsShown(words);
    const all = [...words.keys()].filter((id) => /^(?:cli|output|pdf|input\.problem|input\.remedy)\./.test(id));
    expect(all.length).toBeGreaterThan(100);
    expect(all.filter((id) => !shown.has(id) && !noProblem.test(id))).toEqual([]);
  });

  it("has a line with cause and remedy for every kind of problem of the input", () => {
    for (const kind of problemKinds) {
      const cells =
        page
          .split("\n")
          .find((line) => line.startsWith(`| \`${kind}\` |`))
          ?.split(/(?<!\\)\|/) ?? [];
      expect(cells, kind).toHaveLength(5);
      expect(cells[2]?.trim().length, kind).toBeGreaterThan(5);
      expect(cells[3]?.trim().length, kind).toBeGreaterThan(5);
    }
  });

  it("leaves no message of call, output or PDF without something to do", () => {
    const sections = page.split("\n## ").slice(2);
    expect(sections.length).toBe(5);
    const lines = sections.flatMap((section) => section.split("\n").filter((line) => /^\| (?!---|What)/.test(line)));
    expect(lines.length).toBeGreaterThan(25);
    for (const line of lines) expect(line.split(/(?<!\\)\|/)[2]?.trim(), line).not.toBe("");
  });

  it("is linked from the README", () => expect(read("README.md")).toContain("(templates/messages.md)"));
});
