import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { loadInput, loadTable } from "../../src/cli/input.js";
import { InputError, type ProblemKind } from "../../src/read/problem.js";
import { xlsxOf } from "../read/write-xlsx.js";
import { call, emptyFolder } from "./run-here.js";
import { csvOf, smallRows } from "./small-survey.js";

async function kindsOf(reading: Promise<unknown>): Promise<ProblemKind[]> {
  const error = await reading.catch((thrown: unknown) => thrown);
  if (!(error instanceof InputError)) throw error;
  return error.problems.map((problem) => problem.kind);
}

/** A folder with settings that name data, which may stand elsewhere, and the folder above with the data. */
function settingsFor(data: string): { readonly yaml: string; readonly folder: string; readonly above: string } {
  const above = emptyFolder();
  const folder = join(above, "survey");
  mkdirSync(folder);
  writeFileSync(join(above, "data.csv"), csvOf(smallRows()));
  writeFileSync(join(folder, "survey.yaml"), `title: t\nname: t\ndata: ${data}\n`);
  return { yaml: join(folder, "survey.yaml"), folder, above };
}

describe("data that settings name", () => {
  it("may lie beside them or below", async () => {
    const { yaml, folder, above } = settingsFor("below/data.csv");
    mkdirSync(join(folder, "below"));
    writeFileSync(join(folder, "below", "data.csv"), readFileSync(join(above, "data.csv")));
    expect((await loadInput(yaml)).table.rowCount).toBe(60);
  });

  it("may not lie elsewhere, but may be named on the command line", async () => {
    const { yaml, above } = settingsFor("../data.csv");
    expect(await kindsOf(loadInput(yaml))).toEqual(["data-outside-folder"]);
    expect((await loadInput(yaml, { data: join(above, "data.csv") })).table.rowCount).toBe(60);
    const absolute = settingsFor("/etc/passwd");
    expect(await kindsOf(loadInput(absolute.yaml))).toEqual(["data-outside-folder"]);
  });

  it("may not lie in a folder whose name only begins alike", async () => {
    const { yaml, above } = settingsFor("../survey-other/data.csv");
    mkdirSync(join(above, "survey-other"));
    writeFileSync(join(above, "survey-other", "data.csv"), "a,b\n1,2\n");
    expect(await kindsOf(loadInput(yaml))).toEqual(["data-outside-folder"]);
  });

  it("may not be a link that leads elsewhere, nor lie behind one, nor hold one", async () => {
    const { yaml, folder, above } = settingsFor("data.csv");
    symlinkSync(join(above, "data.csv"), join(folder, "data.csv"));
    expect(await kindsOf(loadInput(yaml))).toEqual(["data-outside-folder"]);
    const behind = settingsFor("link/data.csv");
    symlinkSync(behind.above, join(behind.folder, "link"));
    expect(await kindsOf(loadInput(behind.yaml))).toEqual(["data-outside-folder"]);
    const holding = settingsFor("tables");
    mkdirSync(join(holding.folder, "tables"));
    symlinkSync(join(holding.above, "data.csv"), join(holding.folder, "tables", "data.csv"));
    expect(await kindsOf(loadInput(holding.yaml))).toEqual(["data-outside-folder"]);
  });

  it("may be a link within the folder, and settings may be reached by one", async () => {
    const { yaml, folder, above } = settingsFor("data.csv");
    writeFileSync(join(folder, "real.csv"), readFileSync(join(above, "data.csv")));
    symlinkSync(join(folder, "real.csv"), join(folder, "data.csv"));
    symlinkSync(folder, join(above, "shortcut"));
    expect((await loadInput(yaml)).table.rowCount).toBe(60);
    expect((await loadInput(join(above, "shortcut", "survey.yaml"))).table.rowCount).toBe(60);
  });

  it("that are not settings take no second data file", async () => {
    const { above } = settingsFor("data.csv");
    const called = await call(["report", join(above, "data.csv"), "--data", join(above, "data.csv")]);
    expect([called.code, called.out]).toEqual([2, ""]);
  });
});

describe("a data file of any kind", () => {
  it("may be a folder, a workbook or compressed, with or without settings", async () => {
    const { above } = settingsFor("data.csv");
    const text = readFileSync(join(above, "data.csv"), "utf8");
    const folder = join(above, "tables");
    mkdirSync(folder);
    writeFileSync(join(folder, "children.csv"), text);
    writeFileSync(join(folder, "remarks.md"), "no table");
    writeFileSync(join(above, "data.csv.gz"), gzipSync(text));
    const rows = text
      .trim()
      .split("\n")
      .map((line) => line.trim().split(","));
    writeFileSync(join(above, "data.xlsx"), xlsxOf([{ name: "Data", rows }]));
    for (const name of ["data.csv", "tables", "data.csv.gz", "data.xlsx"]) {
      const table = await loadTable(join(above, name));
      expect(table.rowCount, name).toBe(60);
      expect(
        table.columns.map((column) => column.name),
        name,
      ).toEqual(rows[0]);
    }
  });

  it("is never a pipe or a device", async () => {
    const folder = emptyFolder();
    execFileSync("mkfifo", [join(folder, "pipe.csv")]);
    expect(await kindsOf(loadTable(join(folder, "pipe.csv")))).toEqual(["not-a-file"]);
    expect(await kindsOf(loadTable("/dev/zero"))).toEqual(["not-a-file"]);
  });

  it("of several sheets is drafted with the sheet named, and the draft runs", async () => {
    const folder = emptyFolder();
    const [header = "", ...lines] = csvOf(smallRows())
      .trim()
      .split("\n")
      .map((line) => line.trim());
    const rows = (count: number) => [header, ...lines.slice(0, count)].map((line) => line.split(","));
    const two = [
      { name: "First", rows: rows(60) },
      { name: "Second", rows: rows(30) },
    ];
    writeFileSync(join(folder, "data.xlsx"), xlsxOf(two));
    const unclear = await call(["describe", join(folder, "data.xlsx")]);
    expect([unclear.code, unclear.out]).toEqual([2, ""]);
    expect(unclear.err).toMatch(/First.*Second/);
    const draft = join(folder, "survey.yaml");
    const drafted = await call(["describe", join(folder, "data.xlsx"), "--sheet", "Second", "--out", draft]);
    expect(drafted.code, drafted.err).toBe(0);
    expect((await loadInput(draft)).table.rowCount).toBe(30);
  });
});
