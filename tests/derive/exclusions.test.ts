import { describe, expect, it } from "vitest";
import { indexIds } from "../../src/derive/children.js";
import { derive } from "../../src/derive/derive.js";
import { excluded, exclusionsOf, fixedLimits, usable } from "../../src/derive/exclusions.js";
import { surveyOf } from "./fixture.js";

describe("fixed limits", () => {
  // WHO 2006, as printed in DHS Methodological Report 33: 'HAZ below -6 SD or above +6 SD ... WHZ below -5 SD or above
  // +5 SD ... WAZ below -6 SD or above +5 SD'. The other three indices: from memory.
  const published = { "height-for-age": [-6, 6], "weight-for-height": [-5, 5], "weight-for-age": [-6, 5] } as const;

  it.each(Object.entries(published))("of %s are strict: on the limit is kept", (index, [low, high]) => {
    const z = Float64Array.of(low - 0.01, low, low + 0.01, high - 0.01, high, high + 0.01, Number.NaN);
    const { outsideFixed } = exclusionsOf(z, index as keyof typeof published, 3);
    expect([...outsideFixed]).toEqual([1, 0, 0, 0, 0, 1, 0]);
  });

  it("are compared with two decimals", () => {
    const z = Float64Array.of(-6.004, -6.006, 6.004, 6.006);
    expect([...exclusionsOf(z, "height-for-age", 20).outsideFixed]).toEqual([0, 1, 0, 1]);
  });

  it("exist for every index", () => {
    for (const index of indexIds) expect(fixedLimits[index].low).toBeLessThan(fixedLimits[index].high);
  });
});

describe("limits around the mean", () => {
  it("are centred on the values inside the fixed limits and come on top of them", () => {
    // 9 lies outside the fixed limits and must not move the mean: (-4 - 1 - 1 + 0) / 4 = -1.5.
    const z = Float64Array.of(-4, -1, -1, 0, 9, Number.NaN);
    const column = exclusionsOf(z, "weight-for-height", 2);
    expect(column.centre).toBe(-1.5);
    expect([...column.outsideFixed]).toEqual([0, 0, 0, 0, 1, 0]);
    expect([...column.outsideAroundMean]).toEqual([1, 0, 0, 0, 1, 0]);
  });

  it("keep a value outside the fixed limits out however wide they are, and a value on their edge in", () => {
    const z = Float64Array.of(-1, 1, 5.5);
    expect([...exclusionsOf(z, "weight-for-height", 50).outsideAroundMean]).toEqual([0, 0, 1]);
    expect([...exclusionsOf(Float64Array.of(-1, 1), "weight-for-height", 1).outsideAroundMean]).toEqual([0, 0]);
  });

  it("have no centre where nothing lies inside the fixed limits", () => {
    const column = exclusionsOf(Float64Array.of(9, Number.NaN), "weight-for-height", 3);
    expect(column.centre).toBeNaN();
    expect([...column.outsideAroundMean]).toEqual([1, 0]);
  });
});

describe("excluded and usable", () => {
  it("are apart for each index and rule, and a child without a z-score is neither", () => {
    const rows = [
      { sex: 1, interviewDay: 500, birthDay: 100, weight: 9.5, height: 76 },
      { sex: 1, interviewDay: 500, birthDay: 100, weight: 9.5, height: 110 },
      { sex: 1, interviewDay: 500, birthDay: 100, weight: 9.5 },
    ] as const;
    const { children } = derive(surveyOf(rows));
    expect([...excluded(children, "height-for-age", "fixed")]).toEqual([0, 1, 0]);
    expect([...excluded(children, "height-for-age", "none")]).toEqual([0, 0, 0]);
    expect([...usable(children, "height-for-age", "fixed")]).toEqual([1, 0, 0]);
    expect([...usable(children, "height-for-age", "none")]).toEqual([1, 1, 0]);
    expect([...usable(children, "weight-for-age", "around-mean")]).toEqual([1, 1, 1]);
  });
});
