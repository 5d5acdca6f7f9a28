import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { oneWay } from "../../src/stats/one-way.js";
import { technicalError, technicalErrorOfRepeats } from "../../src/stats/technical-error.js";
import { coded, expectClose, knownValues } from "./close.js";

const known = knownValues("statistics.json");

describe("group comparisons against R 4.2.2", () => {
  it.each(Object.keys(known.groups))("%s", (name) => {
    const expected = known.groups[name];
    const { codes, labels } = coded(expected.g);
    const variance = oneWay(expected.y, codes, labels.length);
    expectClose(variance.f, expected.anova_F);
    expectClose(variance.probability, expected.anova_p);
    expectClose(variance.between, expected.ms_between);
    expectClose(variance.within, expected.ms_within);
    expect([variance.dfBetween, variance.dfWithin]).toEqual([expected.k - 1, expected.n - expected.k]);
  });

  it("intraclass correlation of Dyestuff: for equal groups the restricted-maximum-likelihood value of lme4", () => {
    const { y, g, icc } = known.icc_reml.Dyestuff;
    const { codes, labels } = coded(g);
    // lme4 iterates: its own value is good to about 1e-8.
    expectClose(oneWay(y, codes, labels.length).intraclassCorrelation, icc, 1e-6);
  });

  it("Lohr's five suites of four students", () => {
    // Lohr, Sampling: Design and Analysis, example of grade point averages (from memory): mean squares 0.56392 and 0.18504,
    // intraclass correlation 0.3386 (recomputed).
    const marks = [
      3.08, 2.6, 3.44, 3.04, 2.36, 3.04, 3.28, 2.68, 2.0, 2.56, 2.52, 1.88, 3.0, 2.88, 3.44, 3.64, 2.68, 1.92, 3.28,
      3.2,
    ];
    const result = oneWay(
      marks,
      marks.map((_, i) => Math.floor(i / 4)),
      5,
    );
    expect(result.between).toBeCloseTo(0.56392, 5);
    expect(result.within).toBeCloseTo(0.18504, 5);
    expect(result.intraclassCorrelation).toBeCloseTo(0.3386, 4);
  });
});

describe("group comparisons, any input", () => {
  const rows = fc.array(fc.tuple(fc.integer({ min: -30, max: 30 }), fc.nat(3)), { minLength: 6, maxLength: 50 });

  it("an empty group, missing values and missing codes change nothing", () => {
    fc.assert(
      fc.property(rows, (pairs) => {
        const values = pairs.map(([value]) => value);
        const codes = pairs.map(([, code]) => code);
        const longer = [...values, Number.NaN, 9999];
        const longerCodes = [...codes, 1, -1];
        expect(oneWay(longer, longerCodes, 4)).toEqual(oneWay(values, codes, 4));
      }),
    );
  });

  it("a change of unit changes nothing", () => {
    fc.assert(
      fc.property(rows, (pairs) => {
        const values = pairs.map(([value]) => value);
        const codes = pairs.map(([, code]) => code);
        const before = oneWay(values, codes, 4);
        fc.pre(before.within > 0.01 && before.f > 0.001);
        const moved = values.map((value) => value * 2.54 + 7);
        expectClose(oneWay(moved, codes, 4).f, before.f, 1e-6);
      }),
    );
  });

  it("cannot tell from one group, or when nothing varies", () => {
    expect(oneWay([1, 2, 3], [0, 0, 0], 1).probability).toBeNaN();
    expect(oneWay([1, 2, 3], [0, 1, 2], 3).probability).toBeNaN();
    expect(oneWay([5, 5, 5, 5], [0, 0, 1, 1], 2).probability).toBeNaN();
    expect(oneWay([5, 5, 5, 5], [0, 0, 1, 1], 2).intraclassCorrelation).toBeNaN();
  });
});

describe("technical error of measurement", () => {
  it("against R on the repeat pairs of sleep", () => {
    const expected = known.repeat_pairs.sleep;
    const result = technicalError(expected.first, expected.second);
    expect(result.n).toBe(expected.n);
    expectClose(result.technicalError, expected.tem);
    expectClose(result.meanDifference, expected.mean_difference);
    expectClose(result.standardDeviationOfDifferences, expected.sd_difference);
    expectClose(result.reliability, expected.reliability);
  });
  it("ten children measured twice", () => {
    // Made-up readings; results worked out outside: sum d^2 1.05, 0.22913 cm, 0.2816 in 100, reliability 0.99963.
    const first = [70.1, 82.3, 65.5, 90.2, 77.7, 101.0, 88.6, 73.3, 95.9, 68.8];
    const second = [70.4, 82.0, 65.5, 90.8, 77.5, 101.2, 88.1, 73.4, 96.0, 69.2];
    const result = technicalError(first, second);
    expect(result.technicalError).toBeCloseTo(0.22913, 5);
    expect(result.relative).toBeCloseTo(0.2816, 4);
    expect(result.reliability).toBeCloseTo(0.99963, 5);
    // With two readings each, the general form gives the same.
    expectClose(
      technicalErrorOfRepeats(first.map((one, i) => [one, second[i] as number])),
      result.technicalError,
      1e-9,
    );
  });
  it("five children by three observers", () => {
    // Made-up readings; worked out outside: 0.26077.
    const readings = [
      [85.1, 85.4, 85.0],
      [76.2, 76.0, 76.5],
      [92.3, 92.3, 92.9],
      [68.4, 68.9, 68.5],
      [101.0, 100.6, 100.9],
    ];
    expect(technicalErrorOfRepeats(readings)).toBeCloseTo(0.26077, 5);
  });
  it("skips a pair with a hole and cannot tell without pairs", () => {
    expect(technicalError([1, Number.NaN, 3], [1.2, 2, Number.NaN]).n).toBe(1);
    expect(technicalError([], []).technicalError).toBeNaN();
    expect(technicalError([5, 5], [5, 5]).reliability).toBeNaN();
    expect(technicalErrorOfRepeats([[1, Number.NaN]])).toBeNaN();
    expect(() => technicalError([1], [])).toThrow(RangeError);
  });
});
