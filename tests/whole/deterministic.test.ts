import { copyFileSync, cpSync, readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { call } from "../cli/run-here.js";
import { filesIn, newFolder, program, sampleFolder } from "./program.js";

const folder = newFolder();
const languages = ["en", "ar"];
const everything = ["--language", languages.join(",")];

beforeAll(() => {
  for (const name of readdirSync(sampleFolder).filter((one) => one.startsWith("quillmar")))
    copyFileSync(join(sampleFolder, name), join(folder, name));
  cpSync(join(sampleFolder, "two-rounds"), join(folder, "two-rounds"), { recursive: true });
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What a run said, by its output folder and the survey. */
const said = new Map<string, string>();

/** Runs the built program, which draws in threads of its own, and takes its output; `out` is of each run's own. */
async function made(args: readonly string[], out: string, name: string): Promise<Map<string, Buffer>> {
  const { code, out: printed, err } = await program([...args, "--out", out], folder);
  expect(code, err).toBe(0);
  said.set(`${out} ${name}`, `${printed}${err}`.replaceAll(out, "(out)"));
  return filesIn(join(folder, out, name));
}

function expectSame(first: ReadonlyMap<string, Buffer>, second: ReadonlyMap<string, Buffer>): void {
  expect([...second.keys()]).toEqual([...first.keys()]);
  for (const [name, bytes] of first) expect(bytes.equals(second.get(name) ?? Buffer.alloc(0)), name).toBe(true);
}

describe("the same input, settings, version and browser give the same bytes", () => {
  let report: Map<string, Buffer>;
  beforeAll(async () => {
    report = await made(["report", "quillmar.yaml", ...everything], "first", "quillmar");
  });

  it("a report in two languages: page, print, tables, all numbers", async () => {
    const documents = languages.flatMap((one) =>
      ["report.html", "report.pdf", "tables/README.txt"].map((name) => `${one}/${name}`),
    );
    for (const name of [...documents, "results.json"]) expect(report.get(name)?.length, name).toBeGreaterThan(1000);
    expectSame(report, await made(["report", "quillmar.yaml", ...everything], "second", "quillmar"));
    expect(said.get("second quillmar")).toBe(said.get("first quillmar"));
  });

  it("a comparison in two languages", async () => {
    const comparison = await made(["compare", "two-rounds", ...everything], "first", "two-rounds");
    const documents = languages.flatMap((one) => ["comparison.html", "comparison.pdf"].map((name) => `${one}/${name}`));
    for (const name of [...documents, "comparison.json"])
      expect(comparison.get(name)?.length, name).toBeGreaterThan(1000);
    expectSame(comparison, await made(["compare", "two-rounds", ...everything], "second", "two-rounds"));
  });

  it("drawn again from the numbers alone, each language by itself and without threads: the same page, print and tables", async () => {
    // Run here, from the sources, there is no file that a thread could be started from.
    const results = join(folder, "first", "quillmar", "results.json");
    const { code, err } = await call(["render", results, "--language", "ar", "--out", join(folder, "alone")]);
    expect(code, err).toBe(0);
    const alone = filesIn(join(folder, "alone", "quillmar"));
    expect([...alone.keys()].sort()).toEqual(
      [...report.keys()]
        .filter((name) => !name.startsWith("en/") || name.includes("rows-to-check"))
        .map((name) => (name.includes("rows-to-check") ? name : name.replace("ar/", "")))
        .sort(),
    );
    for (const [name, bytes] of alone) {
      const same = report.get(name) ?? report.get(`ar/${name}`) ?? Buffer.alloc(0);
      expect(bytes.equals(same), name).toBe(true);
    }
  });

  it("the document to edit, with and without threads, which has no page beside it", async () => {
    const only = ["render", join(folder, "first", "quillmar", "results.json"), "--formats", "docx"];
    const first = await made(only, "edit", "quillmar");
    expect([...first.keys()].filter((name) => /\.(html|pdf|docx)$/.test(name))).toEqual(["annex.docx"]);
    expect(first.get("annex.docx")?.length).toBeGreaterThan(100_000);
    const { code, err } = await call([...only, "--out", join(folder, "edit-here")]);
    expect(code, err).toBe(0);
    expectSame(first, filesIn(join(folder, "edit-here", "quillmar")));
  });
});

describe("formats and languages", () => {
  it("that are not known are refused, with those that are", async () => {
    const refused = await call(["render", join(folder, "first/quillmar/results.json"), "--formats", "html,odt"]);
    expect([refused.code, refused.err.includes("docx")]).toEqual([2, true]);
    const language = await call(["render", join(folder, "first/quillmar/results.json"), "--language", "en,qq"]);
    expect([language.code, language.err.includes("qq")]).toEqual([2, true]);
  });
});
