import { describe, expect, it } from "vitest";
import { withoutEmptyRows } from "../../src/columns/empty-rows.js";
import { type Columns, surveyOf, tableOf } from "./make-table.js";

const rows = (more: Columns): Columns => ({ line: [1, 2, 3, 4], ...more });

describe("a row", () => {
  it("is empty where no column that is read holds anything, whatever else stands in it", async () => {
    const table = await tableOf(rows({ weight: [9, "", "NA", 8], height: [70, "", "", ""] }));
    const { table: kept, notes } = withoutEmptyRows(table, ["weight", "height"]);
    expect([...kept.sheetRow]).toEqual([2, 5]);
    expect(notes).toEqual([{ id: "input.note.rows-empty", values: { count: 2 } }]);
    expect(kept.columns.map(({ codes }) => codes.length)).toEqual([2, 2, 2]);
  });

  it("of a table that holds nothing at all is left where it is", async () => {
    const table = await tableOf(rows({ weight: ["", "", "", ""] }));
    expect(withoutEmptyRows(table, ["weight"])).toEqual({ table, notes: [] });
  });

  it("is a child where only the second of two columns of a role holds something", async () => {
    const columns = {
      sex: ["m", "f", "m", ""],
      age_months: [12, 30, 40, ""],
      weight: [9, 12, 14, ""],
      height: ["", 90, 97, ""],
      length: [74, "", "", 66],
    };
    const settings =
      "name: s\ndata: s.csv\ncolumns:\n  sex: sex\n  age-months: age_months\n  weight: weight\n  height: { column: height, otherwise: length }\n";
    expect((await surveyOf(columns, settings)).rowCount).toBe(4);
  });
});
