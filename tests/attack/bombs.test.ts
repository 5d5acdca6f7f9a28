import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { recognisesName } from "../../src/columns/column-names.js";
import { InputError } from "../../src/read/problem.js";
import { readData } from "../../src/read/read-data.js";
import { workbookEntries } from "../read/write-xlsx.js";
import { zipOf } from "../read/write-zip.js";

const header =
  '<row r="1"><c r="A1" t="inlineStr"><is><t>sex</t></is></c><c r="B1" t="inlineStr"><is><t>weight</t></is></c></row>';
const sheet = (rows: string, after = "") => `<worksheet><sheetData>${header}${rows}</sheetData>${after}</worksheet>`;
const many = (count: number, row: (i: number) => string): string =>
  Array.from({ length: count }, (_, i) => row(i + 2)).join("");

/** A workbook with some of its files replaced. */
function workbook(replaced: Readonly<Record<string, string>>): Buffer {
  const entries = workbookEntries([{ name: "a", rows: [["sex", "weight"]] }]);
  return zipOf(entries.map((entry) => ({ ...entry, content: replaced[entry.name] ?? entry.content })));
}
const withSheet = (xml: string) => workbook({ "xl/worksheets/sheet1.xml": xml });

/** What a reader made to work without end is given, and the first problem that it has to say. */
const bombs: Readonly<Record<string, readonly [() => Buffer, string | null]>> = {
  "1,000 rows with one cell in the last column": [
    () => withSheet(sheet(many(1000, (i) => `<row r="${i}"><c r="XFD${i}"><v>1</v></c></row>`))),
    "uneven-row",
  ],
  "a header in the last column over many rows": [
    () => {
      const wide = header.replace("</row>", '<c r="XFD1" t="inlineStr"><is><t>x</t></is></c></row>');
      const rows = many(4000, (i) => `<row r="${i}"><c r="A${i}"><v>1</v></c></row>`);
      return withSheet(sheet(rows).replace(header, wide));
    },
    "file-too-large",
  ],
  "200,000 merged areas of the whole sheet": [
    () =>
      withSheet(
        sheet(
          many(5, (i) => `<row r="${i}"><c r="A${i}"><v>1</v></c></row>`),
          '<mergeCell ref="A1:XFD1048576"/>'.repeat(200_000),
        ),
      ),
    "merged-cells",
  ],
  "shared texts that unpack four hundredfold": [
    () => workbook({ "xl/sharedStrings.xml": `<sst>${"<si><t>x</t></si>".repeat(1_400_000)}</sst>` }),
    "file-too-large",
  ],
  "an attribute list of 100,000": [
    () => withSheet(sheet(`<row r="2" ${many(100_000, (i) => `a${i}="1" `)}/>`)),
    "no-rows",
  ],
  "100,000 elements within each other": [() => withSheet(sheet("", "<a>".repeat(100_000))), "broken-file"],
  "one sheet named 3,000 times": [
    () => {
      const list = many(3000, (i) => `<sheet name="a${i}" sheetId="${i}" r:id="rId1"/>`);
      const xml = `<workbook xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>${list}</sheets></workbook>`;
      const rows = many(1000, (i) => `<row r="${i}"><c r="A${i}"><v>1</v></c></row>`);
      return workbook({ "xl/workbook.xml": xml, "xl/worksheets/sheet1.xml": sheet(rows) });
    },
    "file-too-large",
  ],
  "a gzip of 50 MB of blanks": [() => gzipSync(Buffer.alloc(50_000_000, 0x20)), "file-too-large"],
  "a zip of 2,000 tables": [
    () => zipOf(Array.from({ length: 2000 }, (_, i) => ({ name: `t${i}.csv`, content: "sex,weight\nm,9\n" }))),
    "file-too-large",
  ],
  "a name of 250,000 groups": [() => Buffer.from(`sex,weight,${"a.b/".repeat(250_000)}\nm,9,1\n`), null],
  "a name of 2,000 other names": [() => Buffer.from(`"${'1,7.9:m.n+o/""'.repeat(2000)}",sex,weight\n1,m,9\n`), null],
  "a million blank lines": [() => Buffer.from(`sex,weight\n${"\n".repeat(1_000_000)}m,9\n`), null],
  "a million rows of another length": [() => Buffer.from(`sex,weight\n${"m\n".repeat(1_000_000)}`), "uneven-row"],
  "2,000,000 quotes": [() => Buffer.from(`sex,weight\n${'"'.repeat(2_000_000)}\n`), "uneven-row"],
  "2,000,000 separators": [() => Buffer.from(",".repeat(2_000_000)), "one-column"],
};

describe("a file made to exhaust", () => {
  it.each(Object.entries(bombs))("%s", async (_, [make, kind]) => {
    const bytes = make();
    const before = process.cpuUsage().user;
    const outcome = await readData(bytes, "bomb", { recognises: recognisesName }).then(
      () => null,
      (error: unknown) => {
        if (error instanceof InputError) return error.problems[0]?.kind;
        throw error;
      },
    );
    expect(outcome).toBe(kind);
    // A few tenths of a second on a machine at rest; before, the worst took from 7 to over 100.
    expect((process.cpuUsage().user - before) / 1e6).toBeLessThan(6);
  });

  it("blank lines count as rows of the spreadsheet", async () => {
    const table = await readData(Buffer.from("\n\nsex,weight\n\nm,9\n\n\nf,8\n"), "a.csv", {
      recognises: recognisesName,
    });
    expect([...table.sheetRow]).toEqual([5, 8]);
  });
});
