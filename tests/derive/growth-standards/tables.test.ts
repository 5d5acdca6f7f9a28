import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  type GrowthTable,
  type GrowthTableId,
  growthTable,
} from "../../../src/derive/growth-standards/growth-table.js";
import { lookUp, rowOf } from "../../../src/derive/growth-standards/look-up.js";

const recorded = JSON.parse(
  readFileSync(new URL("../../known-values/growth/table-files.json", import.meta.url), "utf8"),
) as { readonly files: Readonly<Record<GrowthTableId, string>> };
const ids = Object.keys(recorded.files) as GrowthTableId[];

/** The source files write a whole median with one decimal. */
const median = (m = Number.NaN): string => (Number.isInteger(m) ? m.toFixed(1) : String(m));

/** The file a table was packed from, written out again. */
function written(table: GrowthTable): string {
  const byAge = table.rowsPerUnit === 1;
  const placed = table.lastLengthRow >= 0;
  const header = `sex,${byAge ? "day" : "cm"},l,m,s${placed ? ",position" : ""}`;
  const lines = (["male", "female"] as const).flatMap((sex) => {
    const { l, m, s } = table[sex];
    return Array.from(l, (_, row) => {
      const key = table.firstKey + row / table.rowsPerUnit;
      const position = row <= table.lastLengthRow ? ",length" : ",height";
      return `${sex},${byAge ? key : key.toFixed(1)},${l[row]},${median(m[row])},${s[row]}${placed ? position : ""}`;
    });
  });
  return `${[header, ...lines].join("\n")}\n`;
}

describe("growth-standard tables", () => {
  it("are all seven", () => {
    expect(ids).toHaveLength(7);
    // Rows of both sexes, as the README beside the tables counts them.
    expect(ids.reduce((sum, id) => sum + 2 * growthTable(id).rows, 0)).toBe(20_792);
  });

  it.each(ids)("%s unpacks to the very file it was packed from", (id) => {
    expect(
      createHash("sha256")
        .update(written(growthTable(id)))
        .digest("hex"),
    ).toBe(recorded.files[id]);
  });

  it("are unpacked once", () => {
    expect(growthTable("weight-for-age")).toBe(growthTable("weight-for-age"));
  });

  it("restrict where L is not 1", () => {
    expect(ids.filter((id) => !growthTable(id).restricted).sort()).toEqual([
      "head-circumference-for-age",
      "length-height-for-age",
    ]);
  });

  it("have every weight-for-height row equal to the weight-for-length row 0.7 cm longer", () => {
    const height = growthTable("weight-for-height");
    const length = growthTable("weight-for-length");
    let compared = 0;
    for (const sex of [1, 2] as const) {
      for (let row = 0; row < height.rows; row++) {
        const cm = height.firstKey + row / 10;
        const longer = lookUp(length, sex, cm + 0.7);
        if (longer === null) continue;
        expect(lookUp(height, sex, cm)).toEqual(longer);
        compared += 1;
      }
    }
    expect(compared).toBe(888);
  });
});

describe("reading a table", () => {
  const length = growthTable("weight-for-length");
  const height = growthTable("weight-for-height");
  const stature = growthTable("length-height-for-age");
  const arm = growthTable("arm-circumference-for-age");

  it("includes the ends and nothing beyond", () => {
    expect([45, 110].map((cm) => rowOf(length, cm))).toEqual([0, 650]);
    expect([65, 120].map((cm) => rowOf(height, cm))).toEqual([0, 550]);
    expect([44.9, 110.1].map((cm) => rowOf(length, cm))).toEqual([Number.NaN, Number.NaN]);
    expect([64.9, 120.1].map((cm) => rowOf(height, cm))).toEqual([Number.NaN, Number.NaN]);
    expect([90, 91, 1856, 1857].map((day) => rowOf(arm, day))).toEqual([Number.NaN, 0, 1765, Number.NaN]);
    expect([-1, 0, 1856, 1857].map((day) => rowOf(stature, day))).toEqual([Number.NaN, 0, 1856, Number.NaN]);
    expect(rowOf(stature, Number.NaN)).toBeNaN();
  });

  it("finds every tenth of a centimetre, also after the 0.7 cm conversion", () => {
    for (let tenth = 650; tenth <= 1100; tenth++) {
      expect(rowOf(length, tenth / 10)).toBe(tenth - 450);
      expect(rowOf(length, (tenth - 7) / 10 + 0.7)).toBe(tenth - 450);
      expect(rowOf(height, (tenth + 7) / 10 - 0.7)).toBe(tenth - 650);
    }
  });

  it("interpolates between rows", () => {
    const [low, middle, high] = [70, 70.04, 70.1].map((cm) => lookUp(length, 2, cm));
    if (!low || !middle || !high) throw new Error("outside the table");
    expect(middle.m).toBeCloseTo(low.m + 0.4 * (high.m - low.m), 10);
    expect(middle.s).toBeCloseTo(low.s + 0.4 * (high.s - low.s), 10);
  });

  it("reads nothing between length on day 730 and height on day 731", () => {
    expect([730, 730.2, 730.49, 730.5, 730.8, 731].map((day) => rowOf(stature, day))).toEqual([
      730, 730, 730, 731, 731, 731,
    ]);
    expect(rowOf(growthTable("bmi-for-age"), 730.3)).toBe(730);
    expect(rowOf(growthTable("weight-for-age"), 730.3)).toBeCloseTo(730.3, 9);
  });
});
