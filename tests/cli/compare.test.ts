import { cpSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { recognisesName } from "../../src/columns/column-names.js";
import { readData } from "../../src/read/read-data.js";
import { buildReport } from "../../src/report.js";
import type { Comparison } from "../../src/results/comparison.js";
import type { Results } from "../../src/results/schema.js";
import { asVersionOne } from "../compare/computed-results.js";
import { call, emptyFolder, filesIn } from "./run-here.js";
import { csvOf, smallRows } from "./small-survey.js";

const quick = ["--no-pdf", "--quiet"];

/** Results of the small survey with some of its children, as `report` writes them. */
async function resultsOf(rows: number, name: string): Promise<Results> {
  const table = await readData(new TextEncoder().encode(csvOf(smallRows(rows))), `${name}.csv`, {
    recognises: recognisesName,
  });
  const { results } = buildReport({ table, surveyFile: null, settingsSha256: null, date: null, version: "1.0.0" });
  return JSON.parse(JSON.stringify(results));
}

const first = await resultsOf(120, "first");
const second = await resultsOf(132, "second");

function write(path: string, content: unknown): string {
  mkdirSync(join(path, ".."), { recursive: true });
  writeFileSync(path, typeof content === "string" ? content : `${JSON.stringify(content, null, 1)}\n`);
  return path;
}

/** A folder with reports as `report` leaves them. */
function reports(): string {
  const folder = join(emptyFolder(), "reports");
  write(join(folder, "first/results.json"), first);
  write(join(folder, "second/results.json"), second);
  return folder;
}

async function comparisonOf(
  args: readonly string[],
): Promise<{ readonly comparison: Comparison; readonly err: string }> {
  const { code, out, err } = await call(["compare", ...args, "--json", "-"]);
  expect(code, err).toBe(0);
  return { comparison: JSON.parse(out), err };
}

describe("tareline compare", () => {
  it("writes page, JSON and tables into a folder of its own, and the same bytes again", async () => {
    const out = join(emptyFolder(), "out");
    const { code, said } = await call(["compare", reports(), "--no-pdf", "--out", out]);
    expect(code).toBe(0);
    const names = filesIn(out);
    expect(names).toEqual(
      expect.arrayContaining(["comparison-reports/comparison.html", "comparison-reports/comparison.json"]),
    );
    expect(names.some((name) => name.startsWith("comparison-reports/tables/"))).toBe(true);
    expect(said.some((line) => line.endsWith("comparison.html"))).toBe(true);
    const again = join(emptyFolder(), "out");
    await call(["compare", reports(), ...quick, "--out", again]);
    expect(filesIn(again)).toEqual(names);
    for (const name of names) expect(readFileSync(join(again, name)), name).toEqual(readFileSync(join(out, name)));
  });

  it("takes files one by one, in the order given, without the folders of the machine", async () => {
    const folder = reports();
    const files = [join(folder, "second/results.json"), join(folder, "first/results.json")];
    const { comparison } = await comparisonOf(files);
    expect(comparison.surveys.map(({ file, key }) => [file, key])).toEqual([
      ["second/results.json", "second"],
      ["first/results.json", "first"],
    ]);
    expect(JSON.stringify(comparison)).not.toContain(folder);
  });

  it("computes what is missing from data and settings, and takes an earlier report on the same data instead", async () => {
    const folder = emptyFolder();
    for (const [name, rows] of [
      ["first", 120],
      ["second", 132],
    ] as const) {
      write(join(folder, `${name}.csv`), csvOf(smallRows(rows)));
      write(join(folder, `${name}.yaml`), `name: ${name}\ndata: ${name}.csv\n`);
    }
    const yamls = ["first", "second"].map((name) => join(folder, `${name}.yaml`));
    const out = join(folder, "out");
    const fresh = await call(["compare", ...yamls, ...quick, "--out", out], { watched: true });
    expect(fresh.code, fresh.err).toBe(0);
    await call(["report", yamls[0] as string, ...quick, "--out", out]);
    const watched = await call(["compare", ...yamls, "--no-pdf", "--out", out], { watched: true });
    const computing = watched.said.filter((line) => /(first|second)\.yaml/.test(line));
    expect(computing.length).toBe(1);
    expect(computing[0]).toContain("second.yaml");
    // After a change of the data the earlier report is passed over.
    write(join(folder, "first.csv"), csvOf(smallRows(126)));
    const changed = await call(["compare", ...yamls, "--no-pdf", "--out", out], { watched: true });
    expect(changed.said.filter((line) => /(first|second)\.yaml/.test(line)).length).toBe(2);
  });

  it("follows a compare.yaml, alone or in its folder, with the line of what is wrong in it", async () => {
    const folder = reports();
    const yaml = (text: string): string => write(join(folder, "compare.yaml"), text);
    const good = `name: north
title: The north
language: en
surveys:
  - { file: first/results.json, place: Here, round: one, population: 1000 }
  - { file: second/results.json, place: Here, round: two, population: 1000 }
`;
    const path = yaml(good);
    for (const named of [path, folder]) {
      const { comparison } = await comparisonOf([named]);
      expect(comparison.comparison.name).toBe("north");
      expect(comparison.pairs.map(({ id, question }) => [id, question])).toEqual([["first..second", "rounds"]]);
    }
    yaml(good.replace("title", "titel"));
    const wrong = await call(["compare", folder, ...quick]);
    expect([wrong.code, wrong.out]).toEqual([2, ""]);
    expect(wrong.err).toContain("titel");
    expect(wrong.err).toMatch(/\b2\b/);
    const both = await call(["compare", path, join(folder, "first/results.json"), ...quick]);
    expect(both.code).toBe(2);
  });

  it("a broken file stops nothing: it is named with its reason, in the terminal and in the comparison", async () => {
    const folder = reports();
    write(join(folder, "cut/results.json"), JSON.stringify(first).slice(0, 5000));
    write(join(folder, "future/results.json"), { ...first, version: 9 });
    write(join(folder, "later/deep/results.json"), first);
    write(join(folder, "too/far/down/results.json"), "{}");
    write(join(folder, ".hidden/results.json"), "{}");
    const { comparison, err } = await comparisonOf([folder]);
    expect(comparison.refused.map(({ file, reason }) => [file, reason.id])).toEqual([
      ["cut/results.json", "compare.refused.json"],
      ["future/results.json", "compare.refused.version"],
      ["later/deep/results.json", "compare.refused.same-data"],
    ]);
    expect(comparison.surveys.length).toBe(2);
    for (const { file } of comparison.refused) expect(err).toContain(file);
  });

  it("results of version 1 are brought up to date, and the comparison says so", async () => {
    const folder = reports();
    write(join(folder, "first/results.json"), asVersionOne(first));
    const { comparison } = await comparisonOf([folder]);
    expect(comparison.refused).toEqual([]);
    expect(comparison.surveys.map(({ formatVersion }) => formatVersion)).toEqual([1, 3]);
    expect(comparison.story.cautions.map(({ id }) => id)).toContain("compare.story.caution.migrated");
  });
});

describe("what cannot be compared ends with 2 and writes nothing", () => {
  it.each([
    ["one file", (folder: string) => [join(folder, "first/results.json")]],
    ["one usable of two", (folder: string) => [join(folder, "first/results.json"), join(folder, "no-such.json")]],
    ["the same twice", (folder: string) => [join(folder, "first/results.json"), join(folder, "first/results.json")]],
    ["a folder without results", () => [emptyFolder()]],
    ["more than 500", () => Array.from({ length: 501 }, (_, i) => `survey-${i}.json`)],
  ])("%s", async (_, args) => {
    const out = join(emptyFolder(), "out");
    const { code, out: printed, err } = await call(["compare", ...args(reports()), ...quick, "--out", out]);
    expect([code, printed]).toEqual([2, ""]);
    expect(err).not.toBe("");
    expect(err).not.toMatch(/\n\s+at /);
    expect(filesIn(join(out, ".."))).toEqual([]);
  });

  it("no file at all, and an option that is not one", async () => {
    expect((await call(["compare"])).code).toBe(2);
    expect((await call(["compare", "a.json", "b.json", "--fail-on", "doubt"])).code).toBe(2);
  });
});

describe("drawing again", () => {
  it("a comparison.json gives the same page, also in another language", async () => {
    const [out, again] = [join(emptyFolder(), "out"), join(emptyFolder(), "out")];
    await call(["compare", reports(), ...quick, "--out", out]);
    const path = join(out, "comparison-reports/comparison.json");
    const drawn = await call(["render", path, "--no-pdf", "--out", again]);
    expect(drawn.code, drawn.err).toBe(0);
    for (const name of ["comparison.html", "comparison.json"]) {
      const bytes = readFileSync(join(again, "comparison-reports", name));
      expect(bytes, name).toEqual(readFileSync(join(out, "comparison-reports", name)));
    }
    const other = await call(["render", path, "--no-pdf", "--language", "xx", "--out", again]);
    expect(other.code, other.err).toBe(0);
    const accented = readFileSync(join(again, "comparison-reports/comparison.html"), "utf8");
    expect(accented).not.toBe(readFileSync(join(out, "comparison-reports/comparison.html"), "utf8"));
  });

  it("results of version 1 are drawn as those of today", async () => {
    const folder = emptyFolder();
    const path = write(join(folder, "results.json"), asVersionOne(first));
    const { code, err } = await call(["render", path, "--no-pdf", "--out", join(folder, "out")]);
    expect(code, err).toBe(0);
    expect(JSON.parse(readFileSync(join(folder, "out/first/results.json"), "utf8")).version).toBe(3);
  });

  it("a damaged comparison.json is refused", async () => {
    const folder = emptyFolder();
    const path = write(join(folder, "comparison.json"), { format: "tareline-comparison", version: 1 });
    expect((await call(["render", path, "--no-pdf", "--out", join(folder, "out")])).code).toBe(2);
  });
});

describe("output folders", () => {
  it("a report is not replaced by a comparison of the same name", async () => {
    const folder = reports();
    const text = `name: first
surveys:
  - file: first/results.json
  - file: second/results.json
`;
    write(join(folder, "compare.yaml"), text);
    const out = emptyFolder();
    cpSync(join(folder, "first"), join(out, "first"), { recursive: true });
    const before = filesIn(out);
    const { code } = await call(["compare", join(folder, "compare.yaml"), ...quick, "--out", out]);
    expect(code).toBe(2);
    expect(filesIn(out)).toEqual(before);
  });
});
