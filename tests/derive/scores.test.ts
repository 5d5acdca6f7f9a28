import { describe, expect, it } from "vitest";
import { type IndexId, indexIds, noScoreReasons } from "../../src/derive/children.js";
import { deriveScores } from "../../src/derive/scores.js";
import { inputOf, type ScoreRow } from "./fixture.js";
import { published, sexOf } from "./published.js";

const whole: ScoreRow = { sex: 1, days: 400, weight: 9.5, height: 76, arm: 145, head: 46, position: 1 };

function why(index: IndexId, rows: readonly ScoreRow[]): string[] {
  const column = deriveScores(inputOf(rows)).indices[index];
  for (let i = 0; i < rows.length; i++) expect(Number.isNaN(column.z[i])).toBe(column.why[i] !== 0);
  return Array.from(column.why, (code) => noScoreReasons[code] ?? "");
}

/** A child that has the printed measure at the printed key, and the index it is printed for. */
const children: Readonly<Record<string, readonly [IndexId, (key: number, y: number) => ScoreRow]>> = {
  "length-height-for-age": ["height-for-age", (days, height) => ({ days, height })],
  "weight-for-age": ["weight-for-age", (days, weight) => ({ days, weight })],
  // At 100 cm a child's BMI is its weight.
  "bmi-for-age": ["bmi-for-age", (days, weight) => ({ days, weight, height: 100 })],
  "weight-for-length": ["weight-for-height", (height, weight) => ({ height, weight, position: 1 })],
  "weight-for-height": ["weight-for-height", (height, weight) => ({ height, weight, position: 2 })],
  "arm-circumference-for-age": ["arm-for-age", (days, cm) => ({ days, arm: cm * 10 })],
  "head-circumference-for-age": ["head-for-age", (days, head) => ({ days, head })],
};

describe("scores of children", () => {
  it.each(Object.keys(children))("equal the printed SD values of %s, in the units of a survey", (table) => {
    const [index, child] = children[table] as (typeof children)[string];
    const rows = published("published-sd-values.csv").filter((row) => row.table === table);
    const at = (shift: number) =>
      rows.map((row) => ({ sex: sexOf(row), ...child(Number(row.key), Number(row.measurement) + shift) }));
    const [low, high] = [-0.0005 - 1e-9, 0.0005 + 1e-9].map(
      (shift) => deriveScores(inputOf(at(shift))).indices[index].z,
    );
    expect(rows.length).toBeGreaterThan(400);
    const wrong = rows.filter((row, i) => !((low?.[i] ?? 9) <= Number(row.sd) && Number(row.sd) <= (high?.[i] ?? -9)));
    expect(wrong).toEqual([]);
  });

  it("say why there is none, the first reason that applies", () => {
    const bare: ScoreRow = { sex: 0, weight: Number.NaN };
    expect(why("weight-for-age", [whole, { ...whole, sex: 0 }, bare])).toEqual([
      "computed",
      "sex-missing",
      "sex-missing",
    ]);
    const noAge: ScoreRow = { sex: 1, weight: 9.5, height: 76, position: 1 };
    expect(indexIds.map((index) => why(index, [noAge])[0])).toEqual([
      "computed",
      "age-missing",
      "age-missing",
      "age-missing",
      "age-missing",
      "age-missing",
    ]);
    const onlyAge: ScoreRow = { sex: 1, days: 400 };
    for (const index of indexIds)
      expect(why(index, [onlyAge, { ...whole, weight: 0, height: 0, arm: 0, head: 0 }])).toEqual([
        "measure-missing",
        "measure-missing",
      ]);
  });

  it("leave weight out where there is oedema, and only weight", () => {
    const swollen: ScoreRow = { ...whole, oedema: 1 };
    for (const index of ["weight-for-height", "weight-for-age", "bmi-for-age"] as const) {
      expect(why(index, [swollen, { ...whole, oedema: 2 }])).toEqual(["oedema", "computed"]);
    }
    for (const index of ["height-for-age", "arm-for-age", "head-for-age"] as const) {
      expect(why(index, [swollen])).toEqual(["computed"]);
    }
    expect(why("weight-for-age", [{ ...swollen, weight: Number.NaN }])).toEqual(["measure-missing"]);
  });

  it("stop where the tables stop", () => {
    const lying = [44.9, 45, 110, 110.1].map((height): ScoreRow => ({ sex: 2, weight: 8, height, position: 1 }));
    expect(why("weight-for-height", lying)).toEqual(["outside-table", "computed", "computed", "outside-table"]);
    const standing = [64.9, 65, 120, 120.1].map((height): ScoreRow => ({ sex: 2, weight: 8, height, position: 2 }));
    expect(why("weight-for-height", standing)).toEqual(["outside-table", "computed", "computed", "outside-table"]);
    const ages = [0, 90, 91, 1856, 1857].map((days): ScoreRow => ({ ...whole, days }));
    expect(why("arm-for-age", ages)).toEqual([
      "outside-table",
      "outside-table",
      "computed",
      "computed",
      "outside-table",
    ]);
    expect(why("height-for-age", ages)).toEqual(["computed", "computed", "computed", "computed", "outside-table"]);
  });

  it("convert 0.7 cm before choosing the table and computing BMI", () => {
    const rows: ScoreRow[] = [
      { ...whole, height: 75.3, position: 2 },
      { ...whole, height: 76, position: 1 },
      { ...whole, height: 76, position: 0 },
      // At two years and over, lying 85.7 is standing 85.0.
      { ...whole, days: 800, height: 85.7, position: 1 },
      { ...whole, days: 800, height: 85, position: 2 },
    ];
    const { indices } = deriveScores(inputOf(rows));
    for (const index of ["weight-for-height", "height-for-age", "bmi-for-age"] as const) {
      const z = indices[index].z;
      expect(z[0]).toBeCloseTo(z[1] as number, 9);
      expect(z[2]).toBe(z[1]);
      expect(z[3]).toBeCloseTo(z[4] as number, 9);
    }
  });

  it("agree across 0.7 cm: the same weight lying and standing gives one weight-for-height", () => {
    const rows: ScoreRow[] = [
      { sex: 1, weight: 12, height: 90.7, position: 1 },
      { sex: 1, weight: 12, height: 90, position: 2 },
    ];
    const { z } = deriveScores(inputOf(rows)).indices["weight-for-height"];
    expect(z[0]).toBeCloseTo(z[1] as number, 12);
  });

  it("leave their input alone and cope with a survey that measured nothing", () => {
    const input = inputOf([whole]);
    const before = structuredClone(input);
    deriveScores(input);
    expect(input).toEqual(before);
    const empty = { ...input, weight: null, height: null, arm: null, head: null, position: null, oedema: null };
    for (const index of indexIds) expect([...deriveScores(empty).indices[index].why]).toEqual([3]);
    expect(deriveScores(inputOf([])).indices["height-for-age"].centre).toBeNaN();
  });
});
