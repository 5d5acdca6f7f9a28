import { describe, expect, it } from "vitest";
import { usualLimits } from "../../src/read/limits.js";
import { readData } from "../../src/read/read-data.js";
import { cells, refusal } from "./table-cells.js";
import { type ParquetColumn, parquetOf } from "./write-parquet.js";

const day = (iso: string): number => Date.parse(`${iso}T00:00:00Z`) / 86_400_000;
const columns: ParquetColumn[] = [
  { name: "sex", type: "text", values: ["m", "f", null, "m"] },
  { name: "weight", type: "double", values: [9.1, 12.3, null, 0.1 + 0.2] },
  { name: "height", type: "float", values: [80.5, 91.2, 70, null] },
  { name: "arm", type: "int", values: [142, null, -9, 131] },
  { name: "born", type: "date", values: [day("2024-02-29"), day("1969-12-31"), null, day("2026-01-31")] },
  {
    name: "seen",
    type: "timestamp",
    values: [Date.parse("2026-01-31T10:15:00Z"), null, day("2026-02-01") * 86_400_000, 0],
  },
  { name: "share", type: "decimal", scale: 2, values: [0.07, 1.15, null, -2.3] },
];

describe("a Parquet file", () => {
  const expected = {
    sex: ["m", "f", "", "m"],
    weight: ["9.1", "12.3", "", "0.3"],
    height: ["80.5", "91.2", "70", ""],
    arm: ["142", "", "-9", "131"],
    born: ["2024-02-29", "1969-12-31", "", "2026-01-31"],
    seen: ["2026-01-31T10:15:00", "", "2026-02-01", "1970-01-01"],
    share: ["0.07", "1.15", "", "-2.3"],
  };

  it.each([1, 2, 3, 1000])("gives its columns as text, in groups of %d rows", async (rowsInGroup) => {
    const table = await readData(parquetOf(columns, rowsInGroup), "data.parquet");
    expect(cells(table)).toEqual(expected);
    expect([...table.sheetRow]).toEqual([2, 3, 4, 5]);
    expect(table).toMatchObject({ encoding: "utf-8", delimiter: "none", container: { kind: "parquet" } });
  });

  it("names the columns of lists and groups that it does not read", async () => {
    const table = await readData(
      parquetOf([...columns, { name: "visits", type: "text", repeated: true, values: ["a", "b", "c", "d"] }], 4),
      "data.parquet",
    );
    expect(cells(table)).toMatchObject(expected);
    expect(table.notes).toEqual([{ id: "nested-columns-unread", values: { columns: "visits", count: 1 } }]);
  });

  it("refuses a measurement in lists, settings or not", async () => {
    const lists = parquetOf([{ name: "weight", type: "text", repeated: true, values: ["9.1", "8"] }], 2);
    const isMeasure = (name: string): boolean => name === "weight";
    for (const options of [{ isMeasure }, { columns: new Set(["weight"]) }]) {
      const problems = await refusal(readData(lists, "data.parquet", options));
      expect(problems).toMatchObject([{ kind: "nested-column", value: "weight" }]);
    }
  });

  it("gives infinite numbers as they stand, so that they are told of, and NaN as nothing", async () => {
    const weights = [Number.NaN, Number.POSITIVE_INFINITY, 9, 8];
    const table = await readData(parquetOf([{ name: "weight", type: "double", values: weights }], 4), "data.parquet");
    expect(cells(table)).toEqual({ weight: ["", "Infinity", "9", "8"] });
  });

  it("may be packed, and a page that unpacks beyond the limit is refused", async () => {
    const packed = parquetOf(columns, 3, true);
    expect(cells(await readData(packed, "data.parquet"))).toEqual(expected);
    const limits = { ...usualLimits, partBytes: 20 };
    expect(await refusal(readData(packed, "data.parquet", { limits }))).toMatchObject([
      { kind: "file-too-large", details: { what: "unpacked" } },
    ]);
  });

  it("is read in the columns asked for alone", async () => {
    const table = await readData(parquetOf(columns), "data.parquet", { columns: new Set(["weight"]) });
    expect(table.columns.map(({ name, values }) => [name, values.length])).toEqual([
      ["sex", 1],
      ["weight", 4],
      ["height", 1],
      ["arm", 1],
      ["born", 1],
      ["seen", 1],
      ["share", 1],
    ]);
  });

  it("without rows is refused, and so is one with too many cells", async () => {
    const none: ParquetColumn[] = [{ name: "sex", type: "text", values: [] }];
    expect(await refusal(readData(parquetOf(none), "a.parquet"))).toMatchObject([{ kind: "no-rows" }]);
    const limits = { ...usualLimits, cells: 20 };
    expect(await refusal(readData(parquetOf(columns), "a.parquet", { limits }))).toMatchObject([
      { kind: "file-too-large", details: { what: "cells" } },
    ]);
  });

  it("cut anywhere, or with any byte changed, is refused or read, and never more than that", async () => {
    const bytes = parquetOf(columns, 2);
    for (let length = 12; length < bytes.length; length += 53) {
      const [problem] = await refusal(readData(bytes.subarray(0, length), "a.parquet"));
      expect(["broken-file", "not-text"], String(length)).toContain(problem?.kind);
    }
    for (let at = 4; at < bytes.length; at += 11) {
      const changed = Buffer.from(bytes);
      changed[at] = (changed[at] ?? 0) ^ 0xff;
      const outcome = await readData(changed, "a.parquet").catch((error: unknown) => error);
      expect(outcome, String(at)).toSatisfy(
        (value: { exitCode?: number; columns?: unknown }) => value.exitCode === 2 || value.columns !== undefined,
      );
    }
  });
});
