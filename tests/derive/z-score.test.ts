import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { daysPerMonth } from "../../src/derive/age.js";
import { growthTable } from "../../src/derive/growth-standards/growth-table.js";
import { type Lms, lookUp } from "../../src/derive/growth-standards/look-up.js";
import { valueAtZ, zScore } from "../../src/derive/z-score.js";
import { normalQuantile } from "../../src/stats/normal.js";
import { published, sexOf, tableOf } from "./published.js";

function at(table: string, sex: 1 | 2, key: number): Lms & { readonly restricted: boolean } {
  const growth = growthTable(tableOf(table));
  const lms = lookUp(growth, sex, key);
  if (lms === null) throw new Error(`${table} ${key}: outside the table`);
  return { ...lms, restricted: growth.restricted };
}

/** Half of the printed third decimal, and a little for binary fractions. */
const half = 0.0005 + 1e-9;

describe("z-scores against printed tables", () => {
  it("equals the printed SD value, -4 to +4, in all seven tables", () => {
    const rows = published("published-sd-values.csv");
    expect(rows).toHaveLength(9648);
    const wrong = rows.filter((row) => {
      const { l, m, s, restricted } = at(row.table as string, sexOf(row), Number(row.key));
      const [sd, y] = [Number(row.sd), Number(row.measurement)];
      const inside = zScore(y - half, l, m, s, restricted) <= sd && sd <= zScore(y + half, l, m, s, restricted);
      return !inside || Math.abs(valueAtZ(sd, l, m, s, restricted) - y) > half;
    });
    expect(wrong).toEqual([]);
  });

  it("would miss the outer columns without the restriction", () => {
    const missed = published("published-sd-values.csv").filter((row) => {
      const { l, m, s } = at(row.table as string, sexOf(row), Number(row.key));
      return Math.abs(valueAtZ(Number(row.sd), l, m, s, false) - Number(row.measurement)) > half;
    });
    expect(missed.length).toBeGreaterThan(1000);
    expect(missed.every((row) => Math.abs(Number(row.sd)) === 4)).toBe(true);
  });

  it("equals the normal quantile of the printed percentile", () => {
    const rows = published("published-percentiles.csv");
    expect(rows).toHaveLength(3060);
    const wrong = rows.filter((row) => {
      const { l, m, s, restricted } = at(row.table as string, sexOf(row), Number(row.key));
      const [z, y] = [normalQuantile(Number(row.percentile) / 100), Number(row.measurement)];
      // The outermost percentiles (z = 3.09) are printed on the plain curve.
      const form = Math.abs(z) > 3 ? false : restricted;
      return !(zScore(y - half, l, m, s, form) <= z && z <= zScore(y + half, l, m, s, form));
    });
    expect(wrong).toEqual([]);
  });

  it("equals the simplified field tables, months read at m x 30.4375 days", () => {
    const rows = published("published-simplified-sd.csv");
    expect(rows).toHaveLength(7364);
    const wrong = rows.flatMap((row) => {
      const key = Number(row.key) * { week: 7, month: daysPerMonth, cm: 1 }[row.unit as "week" | "month" | "cm"];
      // Month 24 is printed on both sides of the change: length on its last day, height on its first.
      const side = row.table === "length-for-age" ? Math.min(key, 730) : key;
      const day = row.table === "height-for-age" ? Math.max(side, 731) : side;
      const { l, m, s, restricted } = at(row.table as string, sexOf(row), day);
      const difference = valueAtZ(Number(row.sd), l, m, s, restricted) - Number(row.measurement);
      if (Math.abs(difference) <= 0.05 + 1e-9) return [];
      return [{ cell: `${row.table} ${row.sex} ${row.key} ${row.sd}`, beyond: Math.abs(difference) - 0.05 }];
    });
    // Month 24 lies half a day from either row; the other three stand on the edge of a rounding.
    expect(wrong.map(({ cell }) => cell)).toEqual([
      "length-for-age male 22 3",
      "length-for-age male 24 -3",
      "length-for-age male 24 -1",
      "height-for-age female 24 1",
      "height-for-age female 46 -3",
      "head-circumference-for-age female 4 -2",
    ]);
    for (const { cell, beyond } of wrong) expect(beyond).toBeLessThan(cell.includes(" 24 ") ? 0.0125 : 0.001);
  });

  it("equals z-scores published with a longitudinal study", () => {
    let compared = 0;
    let restrictedOnly = 0;
    for (const row of published("longitudinal-growth.csv")) {
      const day = Number(row.age_days);
      if (row.height_cm !== "" && row.haz !== "") {
        const { l, m, s, restricted } = at("length-height-for-age", sexOf(row), day);
        expect(Math.abs(zScore(Number(row.height_cm), l, m, s, restricted) - Number(row.haz))).toBeLessThan(0.00051);
        compared += 1;
      }
      if (row.weight_kg !== "" && row.waz !== "") {
        const { l, m, s } = at("weight-for-age", sexOf(row), day);
        const theirs = Number(row.waz);
        // That source left the restriction out.
        expect(Math.abs(zScore(Number(row.weight_kg), l, m, s, false) - theirs)).toBeLessThan(0.00051);
        const ours = zScore(Number(row.weight_kg), l, m, s, true);
        if (Math.abs(theirs) <= 3) expect(Math.abs(ours - theirs)).toBeLessThan(0.00051);
        else restrictedOnly += Math.abs(ours - theirs) > 0.001 ? 1 : 0;
        compared += 1;
      }
    }
    expect(compared).toBe(3941);
    expect(restrictedOnly).toBe(5);
  });

  it("equals a worked example and its tails", () => {
    // Girl, 365 days, 9 kg: Grellety and Golden, data deposit for PLoS ONE 2016 e0168585 (figshare 4294085): 0.048847178.
    const { l, m, s } = at("weight-for-age", 2, 365);
    expect([l, m, s]).toEqual([-0.2022, 8.9462, 0.12267]);
    expect(zScore(9, l, m, s, true)).toBeCloseTo(0.048847178, 7);
    // Computed from these L, M, S, not published.
    expect([-3, -2, 2, 3].map((z) => valueAtZ(z, l, m, s, true).toFixed(5))).toEqual([
      "6.27308",
      "7.04121",
      "11.50594",
      "13.11361",
    ]);
    expect([5.5, 5, 15].map((y) => zScore(y, l, m, s, true).toFixed(4))).toEqual(["-4.0064", "-4.6574", "4.1734"]);
    expect([5.5, 5, 15].map((y) => zScore(y, l, m, s, false).toFixed(4))).toEqual(["-4.1674", "-5.0330", "4.0004"]);
  });
});

describe("zScore and valueAtZ", () => {
  it("are each other's inverse, anywhere in every table", () => {
    const tables = ["weight-for-age", "bmi-for-age", "weight-for-length", "weight-for-height"] as const;
    const more = ["length-height-for-age", "arm-circumference-for-age", "head-circumference-for-age"] as const;
    fc.assert(
      fc.property(
        fc.constantFrom(...tables, ...more),
        fc.constantFrom(1 as const, 2 as const),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: -5, max: 6, noNaN: true }),
        (id, sex, share, z) => {
          const table = growthTable(id);
          const key = table.firstKey + (share * (table.rows - 1)) / table.rowsPerUnit;
          const { l, m, s, restricted } = at(
            id,
            sex,
            Math.min(key, table.firstKey + (table.rows - 1) / table.rowsPerUnit),
          );
          const y = valueAtZ(z, l, m, s, restricted);
          expect(zScore(y, l, m, s, restricted)).toBeCloseTo(z, 8);
        },
      ),
      { seed: 20, numRuns: 2000 },
    );
  });

  it("rise with the measurement, through -3 and +3 without a step", () => {
    const { l, m, s } = at("weight-for-age", 1, 400);
    for (const z of [-3, 3]) {
      const y = valueAtZ(z, l, m, s, true);
      expect(zScore(y * (1 - 1e-9), l, m, s, true)).toBeLessThan(zScore(y * (1 + 1e-9), l, m, s, true));
      expect(zScore(y * (1 - 1e-9), l, m, s, true)).toBeCloseTo(z, 6);
    }
  });

  it("agree in both forms where l = 1, and hold at and near l = 0", () => {
    expect(zScore(40, 1, 50, 0.04, true)).toBe(zScore(40, 1, 50, 0.04, false));
    expect(zScore(11, 0, 10, 0.1, false)).toBeCloseTo(Math.log(1.1) / 0.1, 14);
    expect(zScore(11, 1e-18, 10, 0.1, false)).toBeCloseTo(Math.log(1.1) / 0.1, 12);
    expect(valueAtZ(1, 0, 10, 0.1, false)).toBeCloseTo(10 * Math.exp(0.1), 12);
  });

  it("has no z-score for a measure that is missing, zero or negative", () => {
    for (const y of [Number.NaN, 0, -3]) for (const l of [1, -0.3]) expect(zScore(y, l, 10, 0.1, true)).toBeNaN();
  });
});
