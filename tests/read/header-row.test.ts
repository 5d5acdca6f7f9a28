import { gzipSync } from "node:zlib";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { recognisesName } from "../../src/columns/column-names.js";
import type { ReadOptions } from "../../src/read/options.js";
import { readData } from "../../src/read/read-data.js";
import type { TextTable } from "../../src/read/table.js";
import { cells, notesOf, refusal } from "./table-cells.js";
import { type Cell, xlsxOf } from "./write-xlsx.js";
import { zipOf } from "./write-zip.js";

const options: ReadOptions = { recognises: recognisesName };
const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const read = (text: string, more: ReadOptions = {}): Promise<TextTable> =>
  readData(bytesOf(text), "data.csv", { ...options, ...more });
const table = ["cluster,sex,weight", "1,m,9.1", "2,f,8.4"];
const plain = { cluster: ["1", "2"], sex: ["m", "f"], weight: ["9.1", "8.4"] };

describe("rows above the header of a text file", () => {
  it.each([
    ["a title", ["Nutrition survey"], 2, 1],
    ["a title and a blank line", ["Nutrition survey", ""], 3, 1],
    ["a title padded as a spreadsheet pads it", ["Nutrition survey,,", ",,"], 3, 1],
    ["several rows, one with commas", ["Survey", "Made in May, by two teams", "", "Not for publication"], 5, 3],
    ["two names that stand in a title", ["About weight,height"], 2, 1],
  ])("%s: are passed over, and it is said which row was taken", async (_, above, row, count) => {
    for (const delimiter of [",", ";", "\t"]) {
      const rows = table.map((line) => line.replaceAll(",", delimiter));
      const titles =
        delimiter === "," ? above : above.map((line) => line.replaceAll(/,+$/g, (run) => delimiter.repeat(run.length)));
      const found = await read([...titles, ...rows, ""].join("\n"));
      expect(cells(found)).toEqual(plain);
      expect([...found.sheetRow]).toEqual([row + 1, row + 2]);
      expect(found.notes).toEqual([{ id: "header-row", values: { table: "data.csv", row, count } }]);
    }
  });

  it("are passed over in every kind of file alike", async () => {
    const text = ["Nutrition survey", "", ...table].join("\n");
    const asCells = (line: string): Cell[] => line.split(",").filter((cell) => cell !== "");
    const files = {
      gzip: gzipSync(text),
      zip: zipOf([{ name: "children.csv", content: text }]),
      xlsx: xlsxOf([{ name: "Children", rows: text.split("\n").map(asCells) }]),
    };
    for (const [kind, bytes] of Object.entries(files)) {
      const found = await readData(bytes, "data", options);
      expect(cells(found), kind).toEqual(plain);
      expect([...found.sheetRow], kind).toEqual([4, 5]);
      expect(notesOf(found), kind).toMatchObject([{ id: "header-row", values: { row: 3, count: 1 } }]);
    }
  });

  it("of labels, as full as the names below them, are passed over", async () => {
    const labels = ["In which place?,A boy or a girl?,How heavy?", ...table];
    expect(cells(await read(labels.join("\n")))).toEqual(plain);
  });

  it("are counted where the names are those of the settings", async () => {
    const known = new Set(["eins", "zwei"]);
    const found = await read("Titel\neins;zwei\n1;2\n", { recognises: (name) => known.has(name) });
    expect(cells(found)).toEqual({ eins: ["1"], zwei: ["2"] });
  });
});

describe("a row of data is never passed over", () => {
  const plainTable = (rows: readonly string[]) => ({ header: (rows[0] as string).split(","), count: rows.length - 1 });

  it.each([
    ["known names in the first row", ["cluster,sex,weight", "sex,weight,height", "1,m,9.1"]],
    ["unknown names, and known ones among the data", ["aa,bb,cc", "x,sex,weight", "1,m,9.1"]],
    ["unknown names, and a whole row of known ones after data", ["aa,bb,cc", "1,m,9.1", "cluster,sex,weight"]],
    ["unknown names, one row of names with a number", ["aa,bb,cc,dd", "cluster,sex,weight,9.1", "1,m,9.1,2"]],
    ["unknown names, and rows with empty cells", ["aa,bb,cc", "sex,weight,", "1,,9.1"]],
  ])("%s", async (_, rows) => {
    const found = await read(rows.join("\n"));
    expect(found.columns.map(({ name }) => name)).toEqual(plainTable(rows).header);
    expect(found.rowCount).toBe(plainTable(rows).count);
    expect(found.notes).toBeUndefined();
  });

  it("whatever the first rows hold: no file loses a row as wide as its header", async () => {
    const word = fc.constantFrom("aa", "b 2", "sex", "weight", "9.1", "m", "2024-01-02", "cluster", "");
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(word, word, word), { minLength: 2, maxLength: 8 }), async (rows) => {
        const found = await read(rows.map((row) => row.join(",")).join("\n"), { delimiter: "," }).catch(() => null);
        if (found === null) return;
        const filled = rows.map((row) => row.filter((cell) => cell !== "").length);
        const at = (found.sheetRow[0] ?? 2) - 2;
        const header = found.columns.length;
        // What was passed over has fewer cells than the header, or is one row of labels without a value.
        const over = filled.slice(0, at).filter((count) => count >= header);
        expect(over.length).toBeLessThanOrEqual(1);
        for (const row of rows.slice(0, at)) {
          if (row.filter((cell) => cell !== "").length >= header) expect(row.join()).not.toMatch(/\d/);
        }
      }),
      { numRuns: 300, seed: 3 },
    );
  });

  it("a table of unknown names is read from its first row, however long", async () => {
    const rows = Array.from({ length: 500 }, (_, i) => `${i},x,${i % 7}`);
    const found = await read(["aa,bb,cc", ...rows].join("\n"));
    expect(found.rowCount).toBe(500);
  });

  it("a title alone above unknown names is refused as ever", async () => {
    expect((await refusal(read("A title\naa,bb\n1,2\n")))[0]?.kind).toMatch(/one-column|uneven-row/);
  });
});
