import { beforeAll, describe, expect, it } from "vitest";
import { comparisonFiles } from "../../src/render/comparison.js";
import { renderFiles } from "../../src/render/files.js";
import { loadWords } from "../../src/render/words.js";
import type { OutputFile } from "../../src/render/write.js";
import { sources } from "../../src/results/sources.js";
import { call } from "../cli/run-here.js";

/** What may stand plain: it comes from the data file and its settings, or is the name of a program, a file or a format. */
const data: readonly RegExp[] = [
  // Title, population, files and places of the sample surveys.
  /Quillmar nutrition survey, October 2024 \(invented data\)/g,
  /Yundeth nutrition survey, (?:March|October) 2025 \(invented data\)/g,
  /Children under five in the three districts of the invented province of Quillmar/g,
  /Yundeth, March and October 2025 \(invented data\)/g,
  /\b(?:tables\/)?[\w-]+\.(?:csv|yaml|json)\b|\btables\/(?=\.)/g,
  /\b(?:Ombrel|Tazvin|Yundeth|village|town|quillmar)\b/g,
  /\u201Cnot known\u201D/g,
  // Columns of the form, by group and question.
  /\b(?:place|office|visit|child)\/\w+/g,
  // Surveys by their files, fingerprints, the program's own name, the format of its results, an encoding.
  /\byundeth-2025-(?:03|10)\b/g,
  /\b[0-9a-f]{16}(?:[0-9a-f]{48})?\b/g,
  /\bTareline \d+\.\d+\.\d+/g,
  /\btareline-results \d/g,
  /\butf-8\b/g,
  // Numbers in tables: 2e-9.
  /\d[eE][+-]\d+/g,
  // The name of a month where a message writes a date: it comes with the computer.
  /\[(?:March|October)\]/g,
];
/** Publications stay as their publishers print them; where they are named, by author and year. */
const references = [...sources.values()].map(({ reference }) => reference.replaceAll("'", " "));
const authorAndYear = /^[^[\]]{2,66}, (?:19|20)\d\d$/;

/** A letter that the pseudo-language would have given an accent, had its text come from the words file. */
const plain = /[\p{L}-]*[aceinouyACEINOUY][\p{L}-]*/gu;

/** What is seen or read out of a page: texts, those of drawings too, and attributes that are spoken or shown. */
function shown(html: string): string[] {
  const body = html.replace(/<style>[\s\S]*?<\/style>/g, "");
  const spoken = [...body.matchAll(/ (?:alt|aria-label|aria-description|title|content)="([^"]*)"/g)].map(
    ([, text = ""]) => text,
  );
  const written = body.replace(/<[^>]*>/g, "\n").split("\n");
  const policy = /default-src|no-referrer|width=device-width/;
  return [...written, ...spoken].map((text) => text.replace(/&[a-z#0-9]+;/g, " ")).filter((text) => !policy.test(text));
}

/** Words that did not come from the words file, each with the text that it stands in. */
function leftOutside(texts: readonly string[]): string[] {
  const allowed = [...references, ...data];
  const found = texts.flatMap((text) => {
    if (authorAndYear.test(text.trim())) return [];
    const rest = allowed.reduce<string>((left, one) => left.replaceAll(one, " "), text);
    return (rest.match(plain) ?? [])
      .filter((word) => !/[^\x20-\x7E]/.test(word))
      .map((word) => `${word}: ${text.trim()}`);
  });
  return [...new Set(found)];
}

const tablesOf = (files: readonly OutputFile[]): string[] =>
  files.filter(({ name }) => name.endsWith(".csv")).map(({ content }) => String(content));

describe("in the pseudo-language", () => {
  const words = loadWords("xx");
  let report: readonly OutputFile[];
  let comparison: readonly OutputFile[];
  beforeAll(async () => {
    const made = async (...args: string[]) => JSON.parse((await call([...args, "--json", "-"])).out);
    report = (await renderFiles(await made("report", "sample-input/quillmar.yaml"), words, [])).files;
    comparison = (await comparisonFiles(await made("compare", "sample-input/two-rounds"), words)).files;
  }, 60_000);

  it("no word of a report stands outside the words file: texts, drawings, alternatives, tables", () => {
    const page = shown(String(report[0]?.content));
    expect(page.length).toBeGreaterThan(2000);
    expect(leftOutside(page)).toEqual([]);
    expect(leftOutside(tablesOf(report))).toEqual([]);
  });

  it("no word of a comparison stands outside it", () => {
    const page = shown(String(comparison[0]?.content));
    expect(page.length).toBeGreaterThan(500);
    expect(leftOutside(page)).toEqual([]);
    expect(leftOutside(tablesOf(comparison))).toEqual([]);
  });

  it("no message is missing", () => expect([...words.missing]).toEqual([]));

  it.each([
    ["report", "nowhere.csv"],
    ["report", "sample-input/quillmar.csv", "--date", "no-day"],
    ["compare", "nowhere"],
    ["describe", "nowhere.csv"],
    ["render", "nowhere.json"],
  ])("what the command line says is found there: %s %s", async (...args) => {
    const { err, code } = await call([...args, "--language", "xx"]);
    expect(code).toBe(2);
    expect(err.length).toBeGreaterThan(10);
    const given = /nowhere(?:\.\w+)?|\S*sample-input\S*|no-day|ENOENT|--\w+|2026-03-31/g;
    expect(leftOutside([err.replaceAll(given, " ")])).toEqual([]);
  });

  it("a word that is put in by hand would be seen", () => {
    expect(leftOutside(shown('<p>[Fîvé çhîldréñ] of team</p><svg aria-label="A picture"></svg>'))).toEqual([
      "of: [Fîvé çhîldréñ] of team",
      "team: [Fîvé çhîldréñ] of team",
      "A: A picture",
      "picture: A picture",
    ]);
  });
});
