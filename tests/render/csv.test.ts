import { parse } from "csv-parse/sync";
import { describe, expect, test } from "vitest";
import { rowsToCheckCsv, separatorsOf, tableToCsv } from "../../src/render/csv.js";
import { notStated } from "../../src/results/group.js";
import type { RowForFollowUp } from "../../src/results/internal-lists.js";
import type { Message, Table } from "../../src/results/schema.js";
import { anyMessage as message } from "../results/any-message.js";

/** Words for the tests: the id, and the values it was given. */
const words = ({ id, values }: Message) => (Object.keys(values).length === 0 ? id : `${id}${JSON.stringify(values)}`);

function table(rows: Table["rows"], labels = ["a", "b"]): Table {
  return {
    id: "sample",
    of: notStated,
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

describe("the separators of a language", () => {
  // Common practice, no source: decimal commas and semicolons in French, Spanish and Portuguese.
  test.each(["fr", "es", "pt"])("%s: semicolons and decimal commas, and every number comes back", (language) => {
    const numbers = [0.1 + 0.2, -3.25, 1e-9, 1234567.5];
    const csv = tableToCsv(table(numbers.map((number) => ["=a;b", number])), words, separatorsOf(language));
    const back = readBack(csv, ";").slice(1);
    expect(back.map((row) => row[0])).toEqual(numbers.map(() => "'=a;b"));
    expect(back.map((row) => Number(row[1]?.replace(",", ".")))).toEqual(numbers);
    expect(back.every((row) => row[1]?.includes(".") === false)).toBe(true);
  });

  test.each(["en", "ar", "xx"])("%s: commas and decimal points", (language) => {
    expect(separatorsOf(language)).toEqual({ cell: ",", decimal: "." });
  });
});

describe("rowsToCheckCsv", () => {
  const row: RowForFollowUp = {
    sheetRow: 12,
    sheet: "",
    cluster: "",
    household: "",
    child: "",
    columns: ["weight, kg"],
    values: ["-9.5"],
    check: message("implausible-values"),
    message: message("low", { z: -6 }),
    suggestion: null,
  };
  const other: RowForFollowUp = {
    ...row,
    sheetRow: 3,
    columns: ["=height", "w"],
    values: ["@x", "9,5"],
    check: message("duplicate-rows"),
    message: message("same"),
    suggestion: message("swapped"),
  };
  const header = (...names: readonly string[]) => names.map((name) => `rows-to-check.column.${name}`);

  test("gives file row, columns, values, check, sentence and suggestion, in the order of the file", () => {
    expect(readBack(rowsToCheckCsv([row, other], words))).toEqual([
      header("internal", "row", "column", "value", "check", "sentence", "suggestion"),
      ["rows-to-check.internal", "3", "'=height | w", "'@x | 9,5", "duplicate-rows", "same", "swapped"],
      ["rows-to-check.internal", "12", "weight, kg", "-9.5", "implausible-values", 'low{"z":-6}', ""],
    ]);
  });

  test("every line says that it is internal", () => {
    for (const line of readBack(rowsToCheckCsv([row, other, row], words)).slice(1)) {
      expect(line[0]).toBe("rows-to-check.internal");
    }
  });

  test("sheet, cluster, household and child have a column where any row has one", () => {
    const placed = { ...row, sheet: "children", cluster: "14", household: "=7", child: "2" };
    const [names, , first] = readBack(rowsToCheckCsv([other, placed], words));
    expect(names?.slice(1, 6)).toEqual(header("row", "sheet", "cluster", "household", "child"));
    expect(first?.slice(1, 6)).toEqual(["12", "children", "14", "'=7", "2"]);
    expect(readBack(rowsToCheckCsv([{ ...row, cluster: "14" }], words))[0]).toHaveLength(8);
  });

  test("without rows it is the header alone", () => {
    expect(readBack(rowsToCheckCsv([], words))).toHaveLength(1);
  });
});
