import { describe, expect, it } from "vitest";
import type { Children, ExclusionRule, IndexId } from "../../src/derive/children.js";
import { derive } from "../../src/derive/derive.js";
import { growthTable } from "../../src/derive/growth-standards/growth-table.js";
import { lookUp } from "../../src/derive/growth-standards/look-up.js";
import { type OutcomeId, outcome } from "../../src/derive/outcome.js";
import { markBelow } from "../../src/derive/rounding.js";
import { valueAtZ } from "../../src/derive/z-score.js";
import { type Row, surveyOf } from "./fixture.js";

const day = 20_000;
const base: Row = {
  sex: 2,
  interviewDay: day,
  birthDay: day - 400,
  weight: 9,
  height: 75,
  arm: 140,
  position: 1,
  oedema: 0,
};

function childrenOf(rows: readonly Row[]): Children {
  return derive(surveyOf(rows)).children;
}

/** Per child: '-' outside the denominator, '0' no case, '1' case. */
function read(children: Children, id: OutcomeId, rule: ExclusionRule = "fixed"): string {
  const { isCase, inDomain } = outcome(children, id, rule);
  return Array.from(inDomain, (inside, i) => {
    expect(isCase[i] === 1 && inside === 0).toBe(false);
    return inside === 0 ? "-" : String(isCase[i]);
  }).join("");
}

/** Children with given z-scores of one index and nothing else changed. */
function withScores(index: IndexId, z: readonly number[]): Children {
  const children = childrenOf(z.map(() => base));
  const column = { ...children.indices[index], z: Float64Array.from(z) };
  return { ...children, indices: { ...children.indices, [index]: column } };
}

describe("cut-offs of z-scores", () => {
  const low = [-1.99, -2, -2.004, -2.006, -2.01, -3, -3.01];
  const high = [1.99, 2, 2.004, 2.006, 3, 3.01];

  it.each([
    ["wasting", "weight-for-height"],
    ["stunting", "height-for-age"],
    ["underweight", "weight-for-age"],
    ["acute-malnutrition-by-weight-for-height", "weight-for-height"],
  ] as const)("of %s are strict, with two decimals", (id, index) => {
    const children = withScores(index, low);
    expect(read(children, id)).toBe("0001111");
    expect(read(children, `severe-${id}`)).toBe("0000001");
  });

  it("of overweight and obesity lie above", () => {
    const children = withScores("weight-for-height", high);
    expect(read(children, "overweight")).toBe("000111");
    expect(read(children, "obesity")).toBe("000001");
    expect(read(children, "wasting")).toBe("000000");
  });

  it("hold for weights at a printed cut-off", () => {
    const lms = lookUp(growthTable("weight-for-length"), 2, 75);
    if (lms === null) throw new Error("outside the table");
    const at = (z: number): Row => ({ ...base, weight: valueAtZ(z, lms.l, lms.m, lms.s, true) });
    expect(read(childrenOf([-2, -2.02, -3, -3.02].map(at)), "wasting")).toBe("0111");
    expect(read(childrenOf([-2, -2.02, -3, -3.02].map(at)), "severe-wasting")).toBe("0001");
  });

  it("are compared in hundredths, halves away from zero", () => {
    const marks = new Uint8Array(6);
    markBelow(Float64Array.of(-2.004, -2.005, -2.006, -2.125, 0, Number.NaN), 1, -200, marks);
    expect([...marks]).toEqual([0, 1, 1, 1, 0, 0]);
  });
});

describe("arm circumference", () => {
  const arms = [114.9, 115, 124.9, 125, 130];

  it("is compared strictly with 115 and 125 mm", () => {
    const children = childrenOf(arms.map((arm) => ({ ...base, arm })));
    expect(read(children, "acute-malnutrition-by-arm-circumference")).toBe("11100");
    expect(read(children, "severe-acute-malnutrition-by-arm-circumference")).toBe("10000");
  });

  it("counts at 6 to 59 completed months only", () => {
    const ages = [182, 183, 1826].map((days): Row => ({ ...base, birthDay: day - days, arm: 110 }));
    const unknownAge: Row = { sex: 1, weight: 9, height: 75, arm: 110, oedema: 0 };
    expect(read(childrenOf([...ages, unknownAge]), "acute-malnutrition-by-arm-circumference")).toBe("-11-");
  });

  it("is set aside outside 100 to 200 mm under either rule, both ends kept", () => {
    const children = childrenOf([14, 99, 100, 200, 201].map((arm) => ({ ...base, arm })));
    for (const rule of ["fixed", "around-mean"] as const) {
      expect(read(children, "acute-malnutrition-by-arm-circumference", rule)).toBe("--10-");
    }
    expect(read(children, "acute-malnutrition-by-arm-circumference", "none")).toBe("11100");
  });
});

describe("oedema", () => {
  const rows: Row[] = [
    { ...base, oedema: 1 },
    { ...base, oedema: 0 },
    { sex: 2, interviewDay: day, birthDay: day - 400, oedema: 1 },
    { ...base, oedema: 2 },
    { sex: 2, oedema: 1 },
  ];
  const children = childrenOf(rows);

  it("makes a case by itself where it counts, whatever was measured", () => {
    for (const id of ["underweight", "acute-malnutrition-by-weight-for-height"] as const) {
      expect(read(children, id)).toBe("10101");
      expect(read(children, `severe-${id}`)).toBe("10101");
    }
    // These need an age of 6 to 59 months.
    for (const id of ["acute-malnutrition-by-arm-circumference", "acute-malnutrition-combined"] as const) {
      expect(read(children, id)).toBe("1010-");
      expect(read(children, `severe-${id}`)).toBe("1010-");
    }
  });

  it("stands outside wasting by z-score alone and overweight", () => {
    expect(read(children, "wasting")).toBe("-0-0-");
    expect(read(children, "overweight")).toBe("-0-0-");
    expect(read(children, "stunting")).toBe("00-0-");
  });

  it("is counted among those for whom it was recorded", () => {
    expect(read(children, "oedema")).toBe("101-1");
    expect(read(childrenOf([{ sex: 1 }]), "oedema")).toBe("-");
  });

  it("is no prevalence where nobody was measured", () => {
    const noArms = childrenOf([
      { ...base, arm: Number.NaN, oedema: 1 },
      { ...base, arm: Number.NaN },
    ]);
    expect(read(noArms, "acute-malnutrition-by-arm-circumference")).toBe("--");
    expect(read(noArms, "acute-malnutrition-combined")).toBe("--");
    expect(read(noArms, "acute-malnutrition-by-weight-for-height")).toBe("10");
  });
});

describe("the combined outcome", () => {
  it("takes any criterion and needs all measures", () => {
    const thin = { weight: 6.8 };
    const children = childrenOf([
      base,
      { ...base, ...thin },
      { ...base, arm: 120 },
      { ...base, arm: 110 },
      { ...base, ...thin, arm: Number.NaN },
      { ...base, weight: Number.NaN, arm: 110 },
      { ...base, oedema: 1, weight: Number.NaN, arm: Number.NaN },
      { ...base, birthDay: day - 150, height: 62, weight: 3.5 },
    ]);
    expect(read(children, "wasting")[1]).toBe("1");
    expect(read(children, "acute-malnutrition-combined")).toBe("0111--1-");
    expect(read(children, "severe-acute-malnutrition-combined")[2]).toBe("0");
    expect(read(children, "severe-acute-malnutrition-combined")[3]).toBe("1");
  });
});

describe("exclusion rules", () => {
  const rows: Row[] = [...Array.from({ length: 20 }, () => base), { ...base, weight: 6 }, { ...base, weight: 3 }];
  const children = childrenOf(rows);

  it("take children out of numerator and denominator alike", () => {
    const { z } = children.indices["weight-for-height"];
    expect(z[20]).toBeLessThan(-4);
    expect(z[20]).toBeGreaterThan(-5);
    expect(z[21]).toBeLessThan(-5);
    expect(read(children, "wasting", "none").slice(20)).toBe("11");
    expect(read(children, "wasting", "fixed").slice(20)).toBe("1-");
    expect(read(children, "wasting", "around-mean").slice(20)).toBe("--");
  });
});

describe("asked for again", () => {
  it("the same columns are given, and others for another rule, outcome or survey", () => {
    const children = childrenOf([base, { ...base, weight: 5.5 }]);
    expect(outcome(children, "wasting", "fixed")).toBe(outcome(children, "wasting", "fixed"));
    expect(outcome(children, "wasting", "none")).not.toBe(outcome(children, "wasting", "fixed"));
    expect(outcome({ ...children }, "wasting", "fixed")).not.toBe(outcome(children, "wasting", "fixed"));
    expect(read(children, "wasting", "none")).not.toBe(read(children, "stunting", "none"));
  });
});
