import { describe, expect, it } from "vitest";
import { indexIds } from "../../src/derive/children.js";
import { derive } from "../../src/derive/derive.js";
import { rescore } from "../../src/derive/rescore.js";
import { type Row, surveyOf } from "./fixture.js";

const day = 20_000;
const aged = (days: number, more: Partial<Row> = {}): Row => ({
  sex: 1,
  interviewDay: day,
  birthDay: day - days,
  ...more,
});
const measured = { weight: 9.5, height: 76, arm: 145, head: 46, position: 1 } as const;

describe("derive", () => {
  it("keeps the age range and the children of unknown age, and counts the rest", () => {
    const rows = [
      aged(0),
      aged(1826),
      aged(1827),
      aged(3000),
      aged(-1, { ageMonths: 3 }),
      { sex: 2, weight: 10, height: 80 } as Row,
    ];
    const derived = derive(surveyOf(rows));
    expect(derived.rowsRead).toBe(6);
    expect([...derived.children.sheetRow]).toEqual([2, 3, 7]);
    expect(derived.leftOut).toEqual([
      { reason: "age-outside", count: 2 },
      { reason: "age-impossible", count: 1 },
    ]);
    expect([...derived.children.ageSource]).toEqual([1, 1, 0]);
    expect(derived.children.indices["weight-for-height"].z[2]).not.toBeNaN();
  });

  it("follows the survey's own range and its reading of months", () => {
    const rows: Row[] = [5, 6, 23, 24].map((ageMonths) => ({ sex: 1, ageMonths }));
    const of = (ageInMonths: "completed" | "exact") =>
      derive(surveyOf(rows, { ageRange: { from: 6, to: 23 }, ageInMonths })).children;
    expect([...of("completed").ageMonths]).toEqual([6.5, 23.5]);
    expect([...of("exact").ageMonths]).toEqual([6, 23]);
  });

  it("takes every column along in step", () => {
    const rows: Row[] = [
      aged(3000, { ...measured, cluster: "1", stratum: "a", samplingWeight: 1, oedema: 1 }),
      aged(400, { ...measured, cluster: "2", stratum: "b", samplingWeight: 2, oedema: 0 }),
      aged(500, { cluster: "1", samplingWeight: 3 }),
    ];
    const { children } = derive(surveyOf(rows));
    expect(children.count).toBe(2);
    expect([...children.ageDays]).toEqual([400, 500]);
    expect([...(children.cluster?.codes ?? [])]).toEqual([1, 0]);
    expect([...(children.stratum?.codes ?? [])]).toEqual([1, -1]);
    expect([...(children.samplingWeight ?? [])]).toEqual([2, 3]);
    expect([...(children.oedema ?? [])]).toEqual([0, 2]);
    expect(children.weight?.missing).toBe(1);
    expect([...(children.weight?.values ?? [])]).toEqual([9.5, Number.NaN]);
    expect(children.team).toBeNull();
  });

  it("works on a survey without rows, ages or measures", () => {
    expect(derive(surveyOf([])).children.count).toBe(0);
    const { children } = derive(surveyOf([{ sex: 1 }, { sex: 2 }]));
    expect(children.count).toBe(2);
    for (const index of indexIds) expect([...children.indices[index].z]).toEqual([Number.NaN, Number.NaN]);
  });
});

describe("rescore", () => {
  const rows = [200, 400, 700, 900, 1500].map((days, i) => aged(days, { ...measured, height: 70 + 5 * i }));
  const { children } = derive(surveyOf(rows));

  it("changes nothing when nothing is changed", () => {
    expect(rescore(children, {}, 3)).toEqual(children);
  });

  it("gives what deriving the changed survey gives", () => {
    const heavier = rows.map((row) => ({ ...row, weight: measured.weight + 0.2, birthDay: (row.birthDay ?? 0) - 30 }));
    const expected = derive(surveyOf(heavier)).children;
    const weight = children.weight?.values.map((kilograms) => kilograms + 0.2);
    const ageDays = children.ageDays.map((days) => days + 30);
    if (weight === undefined) throw new Error("no weight");
    const moved = rescore(children, { weight, ageDays }, 3);
    expect(moved.indices).toEqual(expected.indices);
    expect(moved.ageMonths).toEqual(expected.ageMonths);
    expect(moved.positionWanted).toEqual(expected.positionWanted);
    expect(children.indices).not.toEqual(expected.indices);
  });
});
