import { parse } from "csv-parse/sync";
import { describe, expect, test } from "vitest";
import { rowsToCheckCsv, tableToCsv } from "../../src/render/csv.js";
import { message } from "../../src/results/message.js";
import type { Message, Table } from "../../src/results/schema.js";

/** Words for the tests: the id, and the values it was given. */
const words = ({ id, values }: Message) => (Object.keys(values).length === 0 ? id : `${id}${JSON.stringify(values)}`);

function table(rows: Table["rows"], labels = ["a", "b"]): Table {
  return {
    id: "sample",
    caption: message("caption"),
    columns: labels.map((label, index) => ({ id: label, label: message(label), unit: index === 0 ? "text" : "share" })),
    rows,
  };
}

// csv-parse stands for every reader of RFC 4180.
const readBack = (csv: string, delimiter = ",") => parse(csv, { bom: true, delimiter }) as string[][];

describe("tableToCsv", () => {
  test("is UTF-8 with a byte order mark, lines ending in CRLF, the last one too", () => {
    const csv = tableToCsv(table([["é", 1]]), words);
    expect([...Buffer.from(csv, "utf8").subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
    expect(csv).toBe("\uFEFFa,b\r\né,1\r\n");
  });

  // RFC 4180, section 2, rules 5 to 7: quotes around cells with line breaks, quotes or commas; a quote is doubled.
  test("any text comes back as it was", () => {
    const texts = [
      'say "no"',
      "a,b",
      "two\r\nlines",
      "two\nlines",
      "semi;colon",
      "tab\tin it",
      " space ",
      "",
      '"',
      "ünï",
    ];
    const csv = tableToCsv(table(texts.map((text) => [text, 0])), words);
    expect(readBack(csv).slice(1)).toEqual(texts.map((text) => [text, "0"]));
    expect(csv).toContain('"say ""no"""');
  });

  test("numbers are written unrounded, so that reading them gives the same number", () => {
    const numbers = [0.1 + 0.2, -3.25, 1 / 3, 1e-9, 123456789.123, 0, -0, 1e21];
    const csv = tableToCsv(table(numbers.map((number) => ["x", number])), words);
    const back = readBack(csv)
      .slice(1)
      .map((row) => Number(row[1]));
    expect(back).toEqual(numbers.map((number) => number + 0));
  });

  test("what could not be computed is an empty cell, never a word or a zero", () => {
    const csv = tableToCsv(
      table([
        ["x", null],
        ["y", Number.NaN],
      ]),
      words,
    );
    expect(csv).toBe("\uFEFFa,b\r\nx,\r\ny,\r\n");
  });

  test("messages and readings are put in words", () => {
    const sample = table([[message("team", { n: 3 }), "doubt"]], ["a", "b"]);
    const withReading: Table = {
      ...sample,
      columns: sample.columns.map((column, index) => (index === 1 ? { ...column, unit: "reading" } : column)),
    };
    expect(readBack(tableToCsv(withReading, words))[1]).toEqual(['team{"n":3}', "reading.doubt"]);
  });

  // OWASP, 'CSV Injection': cells that start with = + - @ tab or carriage return are run by spreadsheets.
  test.each([
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "\n=1",
    "\uFF1D1+1",
    "=cmd|' /C calc'!A0",
    "-2 to -1",
  ])("%j starts with an apostrophe, as text, as a message and as a label", (text) => {
    const rows: Table["rows"] = [
      [text, 0],
      [message(text), 0],
    ];
    const csv = tableToCsv(table(rows, [text, "b"]), words);
    expect(readBack(csv).map((row) => row[0])).toEqual([`'${text}`, `'${text}`, `'${text}`]);
  });

  test("a negative number stays one, also where it was typed as text", () => {
    const csv = tableToCsv(
      table([
        ["-3.2", -3.2],
        ["-3,2", -1],
      ]),
      words,
    );
    expect(readBack(csv).slice(1)).toEqual([
      ["-3.2", "-3.2"],
      ["-3,2", "-1"],
    ]);
  });

  test("a language may part cells by semicolons and write a decimal comma", () => {
    const csv = tableToCsv(table([["a;b", -0.5]]), words, { cell: ";", decimal: "," });
    expect(readBack(csv, ";").slice(1)).toEqual([["a;b", "-0,5"]]);
  });
});

describe("rowsToCheckCsv", () => {
  test("gives file row, column, value, check and sentence, in the order of the file", () => {
    const csv = rowsToCheckCsv(
      [
        {
          sheetRow: 12,
          column: "weight, kg",
          value: "-9.5",
          check: "implausible-values",
          message: message("low", { z: -6 }),
        },
        { sheetRow: 3, column: "=height", value: "@x", check: "duplicate-rows", message: message("same") },
      ],
      words,
    );
    expect(readBack(csv)).toEqual([
      ["row", "column", "value", "check", "sentence"].map((name) => `rows-to-check.column.${name}`),
      ["3", "'=height", "'@x", "duplicate-rows", "same"],
      ["12", "weight, kg", "-9.5", "implausible-values", 'low{"z":-6}'],
    ]);
  });

  test("without rows it is the header alone", () => {
    expect(readBack(rowsToCheckCsv([], words))).toHaveLength(1);
  });
});
