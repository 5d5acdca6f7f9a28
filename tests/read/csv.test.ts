import { Buffer } from "node:buffer";
import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { readCsvPart } from "../../src/read/csv.js";
import type { InputProblem } from "../../src/read/problem.js";
import { readData } from "../../src/read/read-data.js";
import type { TextTable } from "../../src/read/table.js";
import { problemsOf as inputProblems } from "../columns/make-table.js";

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** The table as rows of text, column by column. */
function cells(table: TextTable): Record<string, string[]> {
  return Object.fromEntries(
    table.columns.map((column) => [column.name, [...column.codes].map((code) => column.values[code] ?? "?")]),
  );
}

/** `read`: by the way that every file takes, or as text whatever it is. */
async function problemsOf(
  bytes: Uint8Array,
  read: (bytes: Uint8Array) => Promise<unknown> = (given) => readData(given, "data.csv"),
): Promise<readonly InputProblem[]> {
  const error = await read(bytes).catch((thrown: unknown) => thrown);
  expect(error).toMatchObject({ exitCode: 2 });
  return inputProblems(() => {
    throw error;
  });
}

describe("a readable file", () => {
  it("gives columns with each distinct text once", async () => {
    const bytes = bytesOf("sex,weight\r\nm,9.1\r\nf,8.4\r\nm,9.1\r\n");
    const table = await readData(bytes, "data.csv");
    expect(table.rowCount).toBe(3);
    expect(table.columns[0]?.values).toEqual(["m", "f"]);
    expect([...(table.columns[0]?.codes ?? [])]).toEqual([0, 1, 0]);
    expect(cells(table)).toEqual({ sex: ["m", "f", "m"], weight: ["9.1", "8.4", "9.1"] });
    expect([...table.sheetRow]).toEqual([2, 3, 4]);
    expect(table.sha256).toBe(createHash("sha256").update(bytes).digest("hex"));
    expect(table.bytes).toBe(bytes.length);
  });

  it("numbers rows as a spreadsheet does, blank lines and quoted line breaks included", async () => {
    const table = await readData(bytesOf('a,b\n1,"two\nlines"\n\n,\n3,4\n'), "data.csv");
    expect([...table.sheetRow]).toEqual([2, 5]);
    expect(cells(table).b).toEqual(["two\nlines", "4"]);
  });

  it.each([
    ["\r\n", "\r\n"],
    ["\n", "\n"],
    ["\r", "\r"],
    ["\r\n", "\n"],
  ])("takes line ends %j then %j", async (first, then) => {
    const table = await readData(bytesOf(`a,b${first}1,2${then}3,4${then}`), "data.csv");
    expect(cells(table)).toEqual({ a: ["1", "3"], b: ["2", "4"] });
  });

  it("reads more rows than one piece of the file holds, in every encoding", async () => {
    const body = Array.from({ length: 20_000 }, (_, i) => `é${i % 7};${i}`).join("\n");
    const text = `zone;n\n${body}\n`;
    const inputs: Record<string, Uint8Array> = {
      "utf-8": bytesOf(text),
      "utf-16le": Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(text, "utf16le")]),
      "utf-16be": Buffer.concat([Buffer.from([0xfe, 0xff]), Buffer.from(text, "utf16le").swap16()]),
      "windows-1252": Buffer.from(text, "latin1"),
    };
    for (const [encoding, bytes] of Object.entries(inputs)) {
      const table = await readData(bytes, "data.csv");
      expect(table.encoding).toBe(encoding);
      expect(table.rowCount).toBe(20_000);
      expect(table.columns[0]?.values).toEqual(["é0", "é1", "é2", "é3", "é4", "é5", "é6"]);
      expect(cells(table).n?.[19_999]).toBe("19999");
    }
  });

  it("drops the UTF-8 byte order mark", async () => {
    const table = await readData(bytesOf("\ufeffsex,weight\nm,9\n"), "data.csv");
    expect(table.columns.map((column) => column.name)).toEqual(["sex", "weight"]);
  });

  it("shows a word where the encoding was assumed, and none where it was proved", async () => {
    const assumed = await readData(Buffer.from("équipe,sexe\n1,m\n", "latin1"), "data.csv");
    expect(assumed.encodingSample).toBe("équipe");
    const inside = await readData(Buffer.from("sexe,lieu\nm,Bois-Hêtre\n", "latin1"), "data.csv");
    expect(inside.encodingSample).toBe("Hêtre");
    const proved = await readData(bytesOf("équipe,sexe\n1,m\n"), "data.csv");
    expect(proved.encodingSample).toBeUndefined();
  });

  it("keeps cells of 20,000 characters whole", async () => {
    const long = "x".repeat(20_000);
    const table = await readData(bytesOf(`a,b\n${long},1\n"${long}\n${long}",2\n`), "data.csv");
    expect(table.columns[0]?.values.map((text) => text.length)).toEqual([20_000, 40_001]);
  });

  it("keeps the cells of the columns asked for, and the names of all", async () => {
    const options = { columns: new Set(["b"]) };
    const table = await readData(bytesOf("name,b,c\nAyo,2,3\nBem,5,6\n"), "data.csv", options);
    expect(cells(table)).toEqual({ name: ["", ""], b: ["2", "5"], c: ["", ""] });
    expect(table.columns.map((column) => column.codes.length)).toEqual([2, 2, 2]);
  });

  it("passes over a last column that is empty throughout", async () => {
    const table = await readData(bytesOf("a;b;\n1;2;\n3;4;;\n"), "data.csv");
    expect(cells(table)).toEqual({ a: ["1", "3"], b: ["2", "4"] });
  });
});

describe("the delimiter", () => {
  it.each([
    [";", "poids;taille\n9,5;80,5\n"],
    ["\t", "weight\theight\n9.5\t80.5\n"],
    ["|", "weight|height\n9.5|80.5\n"],
    [",", "weight,height\n9.5,80.5\n"],
    // A comma in the header and one in every row: the header under ';' has more columns.
    [";", "id;weight, kg;height\n1;9,5;80\n2;9,1;81\n"],
    // One body row holds a stray delimiter inside quotes.
    [",", 'name,weight\n"a;b;c;d",9\n'],
  ])("is %j", async (delimiter, text) => {
    expect((await readData(bytesOf(text), "data.csv")).delimiter).toBe(delimiter);
  });

  it("is the one that makes column names known, when two fit", async () => {
    const text = "date, time;sex\n2026-01-31, 10:00;m\n";
    expect((await problemsOf(bytesOf(text)))[0]?.kind).toBe("delimiter-unclear");
    const table = await readData(bytesOf(text), "data.csv", { recognises: (name) => name === "sex" });
    expect(table.delimiter).toBe(";");
  });

  it("is taken from a first line that names it, and from the caller", async () => {
    expect(cells(await readData(bytesOf("sep=;\r\na,b;c\r\n1,2;3\r\n"), "data.csv"))).toEqual({
      "a,b": ["1,2"],
      c: ["3"],
    });
    const table = await readData(bytesOf("a,b;c\n1,2;3\n"), "data.csv", { delimiter: ";" });
    expect(table.columns.map((column) => column.name)).toEqual(["a,b", "c"]);
  });

  it("is asked for when the header is one field under each", async () => {
    const [problem] = await problemsOf(bytesOf("sex weight height\nm 9 80\n"));
    expect(problem).toMatchObject({ kind: "one-column", value: "sex weight height" });
  });
});

describe("a file that cannot be read", () => {
  it.each([
    ["", "empty-file"],
    ["\ufeff", "empty-file"],
    ["\n \n\n", "empty-file"],
    ["sex,weight\n", "no-rows"],
    ["sex,weight", "no-rows"],
    ["sex,weight\n\n,\n", "no-rows"],
  ])("%j is %s", async (text, kind) => {
    expect((await problemsOf(bytesOf(text))).map((problem) => problem.kind)).toEqual([kind]);
  });

  it.each([
    [[0x50, 0x4b, 0x03, 0x04, 0x14], "zip"],
    [[0xd0, 0xcf, 0x11, 0xe0, 0xa1], "xls"],
    [[0x25, 0x50, 0x44, 0x46, 0x2d], "pdf"],
    [[0x61, 0x2c, 0x62, 0x0a, 0x00, 0x01], "other"],
  ])("bytes %j are not text (%s)", async (bytes, format) => {
    const [problem] = await problemsOf(Uint8Array.from(bytes), (given) =>
      readCsvPart(given, "data.csv", {}, undefined),
    );
    expect(problem).toMatchObject({ kind: "not-text", details: { format } });
  });

  it("names every uneven row", async () => {
    const problems = await problemsOf(bytesOf("a,b,c\n1,2,3\n1,2\n\n1,2,3,4\n"));
    expect(problems.map(({ kind, row, details }) => ({ kind, row, details }))).toEqual([
      { kind: "uneven-row", row: 3, details: { found: 2, expected: 3 } },
      { kind: "uneven-row", row: 5, details: { found: 4, expected: 3 } },
    ]);
  });

  it("counts uneven rows beyond a thousand without naming them", async () => {
    const problems = await problemsOf(bytesOf(`a,b,c\n1,2,3\n${"1,2\n".repeat(5_000)}`));
    expect(problems).toHaveLength(1_000);
    expect(problems.reduce((sum, problem) => sum + (problem.count ?? 1), 0)).toBe(5_000);
  });

  it("names the row of a quote that is never closed or stands in the wrong place", async () => {
    const rows = "1,2\n".repeat(500);
    const [open] = await problemsOf(bytesOf(`a,b\n${rows}1,"two\n${rows}`));
    expect(open).toMatchObject({ kind: "broken-quotes", row: 502 });
    const [inside] = await problemsOf(bytesOf(`a,b\n1,2\n1,5" pipe\n1,2\n`));
    expect(inside).toMatchObject({ kind: "broken-quotes", row: 3 });
  });

  it("names duplicate and empty column names together", async () => {
    const problems = await problemsOf(bytesOf("sex,weight,sex,\nm,9,f,x\n"));
    expect(problems.map((problem) => problem.kind).sort()).toEqual(["duplicate-column", "unnamed-column"]);
    expect(problems.find((problem) => problem.kind === "duplicate-column")).toMatchObject({
      value: "sex",
      details: { first: 1, position: 3 },
    });
  });
});
