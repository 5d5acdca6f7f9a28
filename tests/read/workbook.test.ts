import { describe, expect, it } from "vitest";
import { usualLimits } from "../../src/read/limits.js";
import type { ReadOptions } from "../../src/read/options.js";
import { readData } from "../../src/read/read-data.js";
import { cells, notesOf, refusal } from "./table-cells.js";
import { type Cell, type SheetContent, serialOf, workbookEntries, xlsxOf } from "./write-xlsx.js";
import { zipOf } from "./write-zip.js";

const known = new Set(["sex", "weight", "height", "seen", "born", "_index", "_parent_index", "_parent_table_name"]);
const options: ReadOptions = {
  recognises: (name) => known.has(name),
  isMeasure: (name) => name === "weight" || name === "height",
};

const header: readonly Cell[] = ["sex", "weight", "seen"];
const sheet = (rows: readonly (readonly Cell[])[], rest: Partial<SheetContent> = {}): SheetContent => ({
  name: "Data",
  rows,
  ...rest,
});
const read = (sheets: readonly SheetContent[], more: ReadOptions = {}, date1904 = false) =>
  readData(xlsxOf(sheets, { date1904 }), "survey.xlsx", { ...options, ...more });

describe("a workbook", () => {
  it("gives the rows below the header, numbered as the spreadsheet shows them", async () => {
    const rows = [["A title"], [], header, ["m", 9.1, null], [], ["f", 8.4, null]];
    const table = await read([sheet(rows)]);
    expect(cells(table)).toEqual({ sex: ["m", "f"], weight: ["9.1", "8.4"], seen: ["", ""] });
    expect([...table.sheetRow]).toEqual([4, 6]);
    expect(table.container).toEqual({ kind: "xlsx", table: "Data", headerRow: 3 });
    expect([table.encoding, table.delimiter]).toEqual(["utf-8", "none"]);
  });

  it("has its first row with text for a header where no name is known", async () => {
    const table = await read([sheet([[], ["a", "b"], ["1", "2"]])]);
    expect(cells(table)).toEqual({ a: ["1"], b: ["2"] });
    expect([...table.sheetRow]).toEqual([3]);
  });

  it("is told by its bytes, whatever its name", async () => {
    const table = await readData(xlsxOf([sheet([header, ["m", 9.1, null]])]), "survey.csv", options);
    expect(table.rowCount).toBe(1);
  });

  it("shows numbers as a spreadsheet does, without the noise of binary fractions", async () => {
    const values = ["12.300000000000001", "0.1", "1E-3", "1.2E+2", "14.100000000000000533", "99999"];
    const rows = values.map((written): Cell[] => ["m", { written }, null]);
    expect(cells(await read([sheet([header, ...rows])])).weight).toEqual([
      "12.3",
      "0.1",
      "0.001",
      "120",
      "14.1",
      "99999",
    ]);
  });

  it("takes a formula's last result, errors by their name, truth values and texts within the cell", async () => {
    const row: Cell[] = [{ inline: "  m & f " }, { formula: "A1+1", value: 9.5 }, { error: "#N/A" }];
    const more: Cell[] = [{ boolean: true }, { boolean: false }, { inline: "a_x000A_b" }];
    expect(cells(await read([sheet([header, row, more])]))).toEqual({
      sex: ["m & f", "TRUE"],
      weight: ["9.5", "FALSE"],
      seen: ["#N/A", "a\nb"],
    });
  });

  it("refuses formulas without a result, but only in columns that are read", async () => {
    const rows: Cell[][] = [[...header], ["m", { formula: "A1" }, null], ["f", { formula: "A2" }, null]];
    const problems = await refusal(read([sheet(rows)]));
    expect(problems.map(({ kind, row, column }) => [kind, row, column])).toEqual([
      ["formula-without-value", 2, "weight"],
      ["formula-without-value", 3, "weight"],
    ]);
    expect((await read([sheet(rows)], { columns: new Set(["sex"]) })).rowCount).toBe(2);
  });

  it("refuses a formula whose result is empty, and takes an empty text for what it is", async () => {
    const rows: Cell[][] = [[...header], ["m", { formula: "A1", value: "" }, null], ["f", 8.1, null]];
    expect(await refusal(read([sheet(rows)]))).toMatchObject([{ kind: "formula-without-value", row: 2 }]);
  });

  it("refuses a shared text that is not in the list of texts: it would pass for an empty cell", async () => {
    const rows: Cell[][] = [[...header], [{ sharedCode: 99 }, 9, null]];
    expect(await refusal(read([sheet(rows)]))).toMatchObject([{ kind: "broken-file" }]);
  });

  it("refuses cells merged over rows of data, and passes over a merged title", async () => {
    const rows: Cell[][] = [["A title"], [...header], ["m", 9, null], ["f", 8, null]];
    const problems = await refusal(read([sheet(rows, { merged: ["A1:C1", "A3:A4"] })]));
    expect(problems).toMatchObject([{ kind: "merged-cells", row: 3, value: "A3:A4" }]);
    expect((await read([sheet(rows, { merged: ["A1:C1"] })])).rowCount).toBe(2);
  });

  it("reads hidden rows and says how many", async () => {
    const rows: Cell[][] = [[...header], ["m", 9, null], ["f", 8, null]];
    const table = await read([sheet(rows, { hidden: [3] })]);
    expect(table.rowCount).toBe(2);
    expect(notesOf(table)).toEqual([{ id: "hidden-rows", values: { table: "Data", count: 1 } }]);
  });

  it("gives uneven rows and columns without a name their place", async () => {
    const rows: Cell[][] = [
      ["sex", "weight", null],
      ["m", 9, "x"],
      ["f", 8, null, null, "remark"],
    ];
    const problems = await refusal(read([sheet(rows)]));
    expect(problems.map(({ kind, row }) => [kind, row])).toEqual([
      ["uneven-row", 2],
      ["uneven-row", 3],
    ]);
    expect(problems[0]?.file).toBe("survey.xlsx > Data");
  });
});

describe("dates of a workbook", () => {
  const dates = (system: 1900 | 1904): Cell[][] =>
    ["2024-02-29", "2026-01-31", "1970-01-01"].map((iso) => ["m", 9, { serial: serialOf(iso, system) }]);

  // ECMA-376 Part 1, 18.17.4: two date systems, from 1900 and from 1904.
  it.each([1900, 1904] as const)("come out as year-month-day in the system of %d", async (system) => {
    const table = await read([sheet([header, ...dates(system)])], {}, system === 1904);
    expect(cells(table).seen).toEqual(["2024-02-29", "2026-01-31", "1970-01-01"]);
  });

  it("have known day numbers: 1 January 2008 is 39448 from 1900 and 37986 from 1904", async () => {
    // ECMA-376 Part 1, 18.17.4.1 gives 2008-01-01 as an example of serial values. From memory.
    const first = await read([sheet([header, ["m", 9, { serial: 39448 }]])]);
    const second = await read([sheet([header, ["m", 9, { serial: 37986 }]])], {}, true);
    expect([cells(first).seen, cells(second).seen]).toEqual([["2008-01-01"], ["2008-01-01"]]);
  });

  it("keep their time of day", async () => {
    const serial = serialOf("2026-01-31");
    const rows: Cell[][] = [
      ["m", 9, { serial: serial + 0.5 }],
      ["m", 9, { serial: 0.75 }],
    ];
    expect(cells(await read([sheet([header, ...rows])])).seen).toEqual(["2026-01-31T12:00:00", "18:00:00"]);
  });

  it.each([
    ['yyyy"-"mm"-"dd', true],
    ["[$-40C]d mmmm yyyy;@", true],
    ["[h]:mm", true],
    ['0.0" days"', false],
    ["[Red]#,##0", false],
    ["General", false],
    ["0.00\\d", false],
  ])("are told by the format: %s", async (dateFormat, isDate) => {
    const bytes = xlsxOf([sheet([header, ["m", 9, { serial: 46053 }]])], { dateFormat });
    const [seen] = cells(await readData(bytes, "survey.xlsx", options)).seen ?? [];
    expect(seen).toBe(isDate ? "2026-01-31" : "46053");
  });
});

describe("several sheets", () => {
  const children = sheet([header, ["m", 9, null]], { name: "Children" });
  const other = sheet([["Made by"], ["the office"]], { name: "About" });
  const more = sheet([header, ["f", 8, null]], { name: "More" });

  it("the only one with known columns is taken, with a note", async () => {
    const table = await read([other, children]);
    expect(table.container?.table).toBe("Children");
    expect(notesOf(table)).toEqual([{ id: "table-chosen", values: { table: "Children", others: "About" } }]);
  });

  it("two that will do are put to the user, and the settings settle it", async () => {
    const [problem] = await refusal(read([children, more]));
    expect(problem).toMatchObject({ kind: "sheet-unclear", details: { sheets: ["Children", "More"] } });
    const table = await read([children, more], { sheet: "More" });
    expect(cells(table).sex).toEqual(["f"]);
    expect(notesOf(table)).toEqual([]);
  });

  it("a sheet that is not there is named with those that are", async () => {
    const [problem] = await refusal(read([children, more], { sheet: "children" }));
    expect(problem).toMatchObject({ kind: "sheet-not-found", value: "children" });
    expect(problem?.details?.sheets).toEqual(["Children", "More"]);
  });

  it("what is wrong with a sheet that is not used stops nothing", async () => {
    const odd = sheet(
      [
        ["x", null],
        ["1", "2", "3"],
      ],
      { name: "Odd", merged: ["A2:A9"] },
    );
    expect((await read([children, odd])).rowCount).toBe(1);
  });

  it("repeats of a form are joined by their index, over two levels", async () => {
    const households = sheet(
      [
        ["cluster", "_index"],
        ["11", 1],
        ["12", 2],
      ],
      { name: "survey" },
    );
    const members = sheet(
      [
        ["sex", "_index", "_parent_table_name", "_parent_index"],
        ["f", 1, "survey", 1],
        ["m", 2, "survey", 2],
      ],
      { name: "members" },
    );
    const measured = sheet(
      [
        ["weight", "height", "_index", "_parent_table_name", "_parent_index"],
        [9, 80, 1, "members", 2],
        [8, 75, 2, "members", 1],
      ],
      { name: "measures" },
    );
    const table = await read([households, members, measured]);
    expect(table.container).toMatchObject({ table: "measures", joined: ["members", "survey"] });
    const { sex, cluster, weight } = cells(table);
    expect({ sex, cluster, weight }).toEqual({ sex: ["m", "f"], cluster: ["12", "11"], weight: ["9", "8"] });
    expect(table.columns.find(({ name }) => name === "sex")?.from).toMatchObject({ file: "survey.xlsx > members" });
    expect([...(table.columns.find(({ name }) => name === "cluster")?.from?.sheetRow ?? [])]).toEqual([3, 2]);
  });
});

describe("a hostile or broken workbook", () => {
  const entries = (change: (name: string, content: string) => string) =>
    zipOf(
      workbookEntries([sheet([header, ["m", 9, null]])]).map(({ name, content }) => ({
        name,
        content: change(name, String(content)),
      })),
    );
  const changed = (wanted: string, content: string) =>
    readData(
      entries((name, old) => (name.endsWith(wanted) ? content : old)),
      "survey.xlsx",
      options,
    );

  it("a cell of a million letters is read whole", async () => {
    const long = "x".repeat(1 << 20);
    expect(cells(await read([sheet([header, [long, 9, null]])])).sex?.[0]).toHaveLength(1 << 20);
  });

  it("ten thousand columns are read", async () => {
    const names = Array.from({ length: 10_000 }, (_, i) => `c${i}`);
    const table = await read([
      sheet([
        [...header, ...names],
        ["m", 9, null, ...names],
      ]),
    ]);
    expect(table.columns).toHaveLength(10_003);
  });

  it.each([
    ["cut off", '<?xml version="1.0"?><worksheet><sheetData><row r="1"><c r="A1"'],
    ["no XML", "PK"],
    ["rows in reverse", '<worksheet><sheetData><row r="2"/><row r="1"/></sheetData></worksheet>'],
    ["a row beyond the last", '<worksheet><sheetData><row r="99999999999"/></sheetData></worksheet>'],
    [
      "a column beyond the last",
      '<worksheet><sheetData><row r="1"><c r="XFE1"><v>1</v></c></row></sheetData></worksheet>',
    ],
  ])("a sheet that is %s is refused", async (_, xml) => {
    expect(await refusal(changed("sheet1.xml", xml))).toMatchObject([{ kind: "broken-file" }]);
  });

  it("entities of a document type do not unfold", async () => {
    const bomb = `<!DOCTYPE s [<!ENTITY a "ha"><!ENTITY b "&a;&a;">]><worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>&b;</t></is></c><c r="B1" t="inlineStr"><is><t>b</t></is></c></row><row r="2"><c r="A2"><v>1</v></c></row></sheetData></worksheet>`;
    const outcome = await changed("sheet1.xml", bomb).catch((error: unknown) => error);
    expect(JSON.stringify(outcome)).not.toContain("haha");
  });

  it("far cells in many rows are refused before memory runs out", async () => {
    const rows = Array.from({ length: 50 }, (_, i) => `<row r="${i + 2}"><c r="XFD${i + 2}"><v>1</v></c></row>`);
    const xml = `<worksheet><sheetData><row r="1"><c r="A1"><v>1</v></c><c r="XFD1"><v>2</v></c></row>${rows.join("")}</sheetData></worksheet>`;
    const bytes = entries((name, old) => (name.endsWith("sheet1.xml") ? xml : old));
    const limits = { ...usualLimits, sheetCells: 500_000 };
    const [problem] = await refusal(readData(bytes, "survey.xlsx", { ...options, limits }));
    expect(problem).toMatchObject({ kind: "file-too-large", details: { what: "cells" } });
  });

  it("a part that unpacks beyond the limit is refused", async () => {
    const bytes = entries((name, old) => (name.endsWith("sheet1.xml") ? old + " ".repeat(3_000_000) : old));
    expect(bytes.length).toBeLessThan(20_000);
    for (const limit of [{ partBytes: 1_000_000 }, { unpackedBytes: 1_000_000 }]) {
      const reading = readData(bytes, "survey.xlsx", { ...options, limits: { ...usualLimits, ...limit } });
      expect(await refusal(reading)).toMatchObject([{ kind: "file-too-large", details: { what: "unpacked" } }]);
    }
  });

  it("relations to nowhere are a broken file and no fault of the program", async () => {
    for (const target of ["http://[", "../../../etc/passwd", "%E0%A4"]) {
      const xml = `<Relationships><Relationship Id="rId1" Type="x/worksheet" Target="${target}"/></Relationships>`;
      expect(await refusal(changed("workbook.xml.rels", xml)), target).toMatchObject([{ kind: "broken-file" }]);
    }
  });

  it("cut anywhere, it is refused", async () => {
    const bytes = xlsxOf([sheet([header, ["m", 9, null]])]);
    for (let length = 4; length < bytes.length; length += 97) {
      const [problem] = await refusal(readData(bytes.subarray(0, length), "survey.xlsx", options));
      expect(["broken-file", "not-text"], String(length)).toContain(problem?.kind);
    }
  });
});
