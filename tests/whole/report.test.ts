import { copyFileSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { resultsSchema } from "../../src/results/schema.js";
import { type Ended, filesIn, newFolder, program, reachesOut, sampleFolder, slips, textsOf } from "./program.js";

const megabyte = 1_000_000;
const folder = newFolder();
const inFolder = (...parts: string[]): string => join(folder, ...parts);
let first: Ended;
let output: Map<string, Buffer>;
let html: string;

/** The cells of one column of the sample's data. */
function sampleColumn(name: string): string[] {
  const [header = "", ...lines] = readFileSync(join(sampleFolder, "quillmar.csv"), "utf8").trimEnd().split("\n");
  const at = header.split(",").indexOf(name);
  if (at < 0) throw new Error(`no column ${name}`);
  return lines.map((line) => line.split(",")[at] ?? "");
}

beforeAll(async () => {
  for (const name of ["quillmar.csv", "quillmar.yaml", "quillmar-clusters.csv"])
    copyFileSync(join(sampleFolder, name), inFolder(name));
  first = await program(["report", "quillmar.yaml"], folder);
  output = filesIn(inFolder("out", "quillmar"));
  html = output.get("report.html")?.toString("utf8") ?? "";
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("a report of the sample survey", () => {
  it("ends with 0, keeps standard output free, and says the paths last", () => {
    expect(first.code, first.err).toBe(0);
    expect(first.out).toBe("");
    const files = [...output.keys()].filter((name) => !name.startsWith("tables/"));
    const lines = first.err
      .trimEnd()
      .split("\n")
      .slice(-files.length - 1);
    expect([...lines].sort()).toEqual([...files, "tables"].map((name) => inFolder("out", "quillmar", name)).sort());
  });

  it("holds the page, the PDF, the results, a table for every table of the results, and the rows to look at", () => {
    const results = resultsSchema.parse(JSON.parse(output.get("results.json")?.toString("utf8") ?? ""));
    const tables = [...results.checks.flatMap((check) => check.tables), ...(results.consequence?.tables ?? [])];
    expect(tables.length).toBeGreaterThan(10);
    expect([...output.keys()].sort()).toEqual(
      [
        ...["report.html", "report.pdf", "results.json", "rows-to-check.csv"],
        // Drawn from all checks and all estimates, so of no single one.
        ...["tables/checks.csv", "tables/prevalence.csv", "tables/README.txt"],
        ...tables.map((table) => `tables/${table.id}.csv`),
      ].sort(),
    );
    for (const bytes of output.values()) expect(bytes.length).toBeGreaterThan(0);
    const rows = output.get("rows-to-check.csv")?.toString("utf8").trimEnd().split("\r\n") ?? [];
    expect(rows.length - 1).toBe(results.checks.reduce((sum, check) => sum + check.rowsToCheck, 0));
    expect(rows.length).toBeGreaterThan(4);
  });

  it("the page is at most 2 MB", () => {
    expect(html.length).toBeGreaterThan(100_000);
    expect(Buffer.byteLength(html)).toBeLessThanOrEqual(2 * megabyte);
  });

  it("the PDF is a PDF of at most 3 MB", () => {
    const pdf = output.get("report.pdf") ?? Buffer.alloc(0);
    expect(pdf.subarray(0, 5).toString()).toBe("%PDF-");
    expect(pdf.length).toBeLessThanOrEqual(3 * megabyte);
  });

  it("leaves nothing else behind: no unfinished folder, no file outside the output", () => {
    const outside = [...filesIn(folder).keys()].filter((name) => !name.startsWith("out/quillmar/"));
    expect(outside.sort()).toEqual(["quillmar-clusters.csv", "quillmar.csv", "quillmar.yaml"]);
  });

  it("stands alone: no script, nothing fetched, and a policy that forbids both", () => {
    expect(reachesOut(html)).toEqual([]);
    expect(html).not.toMatch(/https?:\/\//);
    const policy = /<meta http-equiv="Content-Security-Policy" content="([^"]*)">/.exec(html)?.[1] ?? "";
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toContain("script-src");
  });

  it("has no unnamed message, and no number that is none", () => {
    expect(textsOf(html).length).toBeGreaterThan(500);
    expect(slips(html)).toEqual([]);
    for (const [name, bytes] of output) {
      if (!name.endsWith(".csv")) continue;
      expect(bytes.toString("utf8"), name).not.toMatch(/NaN|undefined|Infinity|\[\[|\[object/);
    }
  });

  it("no child's name or phone reaches the output: those columns were never read", () => {
    expect(new Set(sampleColumn("child/first_name"))).toEqual(new Set(["name not kept"]));
    for (const [name, bytes] of output) {
      if (name.endsWith(".pdf")) continue;
      expect(bytes.toString("utf8"), name).not.toMatch(/name not kept|phone not kept|first_name|carer\/phone/);
    }
  });

  it("no birth date of a child stands in the page, the results or the tables", () => {
    const dates = new Set(sampleColumn("child/birth_date").filter((date) => date !== ""));
    expect(dates.size).toBeGreaterThan(300);
    const interviews = new Set(sampleColumn("visit/today"));
    for (const [name, bytes] of output) {
      if (name.endsWith(".pdf") || name === "rows-to-check.csv") continue;
      const found = bytes.toString("utf8").match(/\b20\d\d-\d\d-\d\d\b/g) ?? [];
      expect(
        found.filter((date) => dates.has(date) && !interviews.has(date)),
        name,
      ).toEqual([]);
    }
  });

  it("says nothing of the machine it was made on", () => {
    for (const [name, bytes] of output) expect(bytes.includes(folder), name).toBe(false);
  });
});

describe("other ways to a report", () => {
  it("render draws the same page from results.json alone, and in place keeps the rows to look at", async () => {
    copyFileSync(inFolder("out", "quillmar", "results.json"), inFolder("kept.json"));
    const { code, err } = await program(["render", "kept.json", "--out", "again", "--no-pdf"], folder);
    expect(code, err).toBe(0);
    const drawn = filesIn(inFolder("again", "quillmar"));
    expect([...drawn.keys()]).toEqual([...output.keys()].filter((name) => !/pdf|rows-to-check/.test(name)));
    for (const [name, bytes] of drawn) expect(bytes.equals(output.get(name) ?? Buffer.alloc(0)), name).toBe(true);
  });

  it("data without settings: nothing in the sample's columns is ambiguous but what describe asks about", async () => {
    const plain = await program(["report", "quillmar.csv", "--no-pdf", "--out", "plain"], folder);
    expect(plain.code, plain.err).toBe(0);
    const page = filesIn(inFolder("plain", "quillmar")).get("report.html")?.toString("utf8") ?? "";
    expect(slips(page)).toEqual([]);
    expect(page).not.toMatch(/name not kept|phone not kept/);
  });

  it("describe drafts settings from which a report can be made with the same prevalence", async () => {
    const drafted = await program(["describe", "quillmar.csv", "--out", "draft.yaml"], folder);
    expect(drafted.code, drafted.err).toBe(0);
    expect(drafted.out).toBe("");
    const text = readFileSync(inFolder("draft.yaml"), "utf8");
    expect(text).not.toContain("[[");
    const open = [...text.matchAll(/^(?! *#).*"\?"$/gm)].map((match) => match[0].trim());
    expect(open).toEqual([]);
    const made = await program(["report", "draft.yaml", "--no-pdf", "--out", "drafted"], folder);
    expect(made.code, made.err).toBe(0);
    const results = JSON.parse(filesIn(inFolder("drafted", "quillmar")).get("results.json")?.toString("utf8") ?? "");
    const whole = JSON.parse(output.get("results.json")?.toString("utf8") ?? "");
    expect(results.input.rowsUsed).toBe(whole.input.rowsUsed);
    const wasting = (from: typeof results) =>
      from.estimates.find((one: { id: string }) => one.id === "wasting").overall.n;
    expect(wasting(results)).toBe(wasting(whole));
  });

  it("a later run that fails leaves the earlier output as it was", async () => {
    writeFileSync(
      inFolder("quillmar-bad.yaml"),
      readFileSync(inFolder("quillmar.yaml"), "utf8").replace("quillmar.csv", "bad.csv"),
    );
    const [header = "", row = "", ...rest] = readFileSync(inFolder("quillmar.csv"), "utf8").split("\n");
    const weight = header.split(",").indexOf("child/weight_kg");
    const spoiled = row.split(",").map((cell, i) => (i === weight ? "ten" : cell));
    writeFileSync(inFolder("bad.csv"), [header, spoiled.join(","), ...rest].join("\n"));
    const failed = await program(["report", "quillmar-bad.yaml"], folder);
    expect(failed.code).toBe(2);
    expect(failed.err).toContain('"ten"');
    const after = filesIn(inFolder("out", "quillmar"));
    expect([...after.keys()]).toEqual([...output.keys()]);
    for (const [name, bytes] of after) expect(bytes.equals(output.get(name) ?? Buffer.alloc(0)), name).toBe(true);
  });

  it("a folder with somebody's own file is not written over", async () => {
    const mine = inFolder("out", "quillmar", "my-notes.txt");
    writeFileSync(mine, "mine");
    const refused = await program(["report", "quillmar.yaml", "--no-pdf"], folder);
    expect(refused.code).toBe(2);
    expect(refused.err).toContain("my-notes.txt");
    expect(readFileSync(mine, "utf8")).toBe("mine");
    rmSync(mine);
  });
});

describe("every word of the page comes from the words file", () => {
  /** Data of the sample that stand in the report as they are: labels, column names, settings, references. */
  function dataTexts(results: ReturnType<typeof resultsSchema.parse>): Set<string> {
    const texts = new Set<string>();
    const visit = (value: unknown): void => {
      if (typeof value === "string") texts.add(value);
      else if (Array.isArray(value)) for (const item of value) visit(item);
      else if (typeof value === "object" && value !== null) {
        for (const [key, inner] of Object.entries(value)) {
          texts.add(key);
          visit(inner);
        }
      }
    };
    visit(results);
    return texts;
  }

  /** A source named in short: 'Conkle J, et al, 2017', or the start of its reference. */
  function isCitation(text: string, { sources }: Pick<ReturnType<typeof resultsSchema.parse>, "sources">): boolean {
    const [, authors = text.replace(/\u2026$/, ""), year = ""] = /^(.*), (\d{4})$/.exec(text) ?? [];
    return sources.some(({ reference }) => reference.startsWith(authors) && reference.includes(year));
  }

  it("in the pseudo-language no sentence keeps its plain letters", async () => {
    const { code, err } = await program(
      ["report", "quillmar.yaml", "--language", "xx", "--no-pdf", "--out", "xx"],
      folder,
    );
    expect(code, err).toBe(0);
    const drawn = filesIn(inFolder("xx", "quillmar"));
    const page = drawn.get("report.html")?.toString("utf8") ?? "";
    const results = resultsSchema.parse(JSON.parse(drawn.get("results.json")?.toString("utf8") ?? ""));
    const data = dataTexts(results);
    const plain = textsOf(page).filter((text) => {
      if (data.has(text) || isCitation(text, results)) return false;
      // Two words of Latin letters and no accent: an accented sentence without a vowel is not to be expected.
      const isPhrase = /[A-Za-z]{2,}.*\s.*[A-Za-z]{2,}/.test(text);
      return isPhrase && !/[\u00e5\u00e7\u00e9\u00ee\u00f1\u00f6\u00fb\u00fd]/.test(text);
    });
    expect(plain).toEqual([]);
    expect(textsOf(page).filter((text) => /[\u00e5\u00e9\u00ee\u00f6]/.test(text)).length).toBeGreaterThan(300);
  });
});
