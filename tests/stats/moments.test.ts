import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { momentsOf } from "../../src/stats/moments.js";
import { quantile, sortedValues } from "../../src/stats/quantile.js";
import { expectClose, knownValues } from "./close.js";

const known = knownValues("statistics.json").moments;

describe("moments and quantiles against R 4.2.2 and e1071 1.7-13", () => {
  it.each(Object.keys(known))("%s", (name) => {
    const expected = known[name];
    const moments = momentsOf(expected.values);
    expect(moments.n).toBe(expected.n);
    expectClose(moments.mean, expected.mean);
    expectClose(moments.standardDeviation, expected.sd);
    expectClose(moments.skewnessUnadjusted, expected.skewness_type1);
    expectClose(moments.skewness, expected.skewness_type2);
    expectClose(moments.excessKurtosisUnadjusted, expected.excess_kurtosis_type1);
    expectClose(moments.excessKurtosis, expected.excess_kurtosis_type2);
    [0.05, 0.25, 0.5, 0.75, 0.95].forEach((p, i) => {
      expectClose(quantile(expected.values, p), expected.quantiles_type7[i]);
    });
  });
});

describe("moments against worked examples", () => {
  it("twenty values of a course page", () => {
    // IASRI e-course, descriptive statistics, page 34300 (read): mean, m2, m3, m4 and b2 as printed.
    const values = [18, 22, 17, 18, 22, 23, 22, 19, 25, 25, 23, 25, 24, 28, 26, 27, 19, 20, 27, 22];
    const moments = momentsOf(values);
    const m2 = (moments.standardDeviation ** 2 * 19) / 20;
    expectClose(moments.mean, 22.6, 1e-12);
    expectClose(m2, 10.34, 1e-12);
    expectClose(moments.skewnessUnadjusted * m2 ** 1.5, -3.528, 1e-10);
    expectClose((moments.excessKurtosisUnadjusted + 3) * m2 ** 2, 204.9032, 1e-10);
    expect(moments.excessKurtosisUnadjusted + 3).toBeCloseTo(1.91649, 5);
    // The square of the skewness: 0.0112589 in size; the page prints a minus before a square.
    expect(moments.skewnessUnadjusted ** 2).toBeCloseTo(0.0112589, 7);
    // Computed outside from the formulas, not printed on the page.
    expect(moments.skewness).toBeCloseTo(-0.114912, 6);
    expect(moments.excessKurtosis).toBeCloseTo(-1.040257, 6);
    expect(moments.standardErrorOfSkewness).toBeCloseTo(0.512103, 6);
    expect(moments.standardErrorOfKurtosis).toBeCloseTo(0.992384, 6);
  });

  it("a hundred grouped heights", () => {
    // A widely used teaching example (from memory); results recomputed: G1 -0.1098, G2 -0.2091, errors 0.2414 and 0.4783.
    const groups = [
      [61, 5],
      [64, 18],
      [67, 42],
      [70, 27],
      [73, 8],
    ] as const;
    const moments = momentsOf(groups.flatMap(([height, count]) => new Array<number>(count).fill(height)));
    expect(moments.mean).toBeCloseTo(67.45, 10);
    expect(moments.skewness).toBeCloseTo(-0.1098, 4);
    expect(moments.excessKurtosis).toBeCloseTo(-0.2091, 4);
    expect(moments.standardErrorOfSkewness).toBeCloseTo(0.2414, 4);
    expect(moments.standardErrorOfKurtosis).toBeCloseTo(0.4783, 4);
  });
});

describe("moments, what holds for any sample", () => {
  const sample = fc.array(
    fc.double({ min: -50, max: 50, noNaN: true }).map((x) => Math.round(x * 100) / 100),
    {
      minLength: 5,
      maxLength: 60,
    },
  );

  it("follows the definitions by central moments", () => {
    fc.assert(
      fc.property(sample, (values) => {
        const moments = momentsOf(values);
        fc.pre(moments.standardDeviation > 0.01);
        const n = values.length;
        const centre = values.reduce((sum, x) => sum + x, 0) / n;
        const central = (k: number): number => values.reduce((sum, x) => sum + (x - centre) ** k, 0) / n;
        expectClose(moments.standardDeviation, Math.sqrt((central(2) * n) / (n - 1)), 1e-9);
        expect(moments.skewnessUnadjusted).toBeCloseTo(central(3) / central(2) ** 1.5, 7);
        expect(moments.excessKurtosisUnadjusted).toBeCloseTo(central(4) / central(2) ** 2 - 3, 6);
      }),
    );
  });

  it("a missing value changes nothing; a shift moves only the mean; turning round turns the skewness", () => {
    fc.assert(
      fc.property(sample, (values) => {
        const moments = momentsOf(values);
        fc.pre(moments.standardDeviation > 0.01);
        expect(momentsOf([Number.NaN, ...values, Number.NaN])).toEqual(moments);
        const shifted = momentsOf(values.map((x) => x + 1000));
        expect(shifted.mean).toBeCloseTo(moments.mean + 1000, 8);
        expectClose(shifted.standardDeviation, moments.standardDeviation, 1e-8);
        expect(shifted.skewness).toBeCloseTo(moments.skewness, 6);
        expect(momentsOf(values.map((x) => -x)).skewness).toBeCloseTo(-moments.skewness, 8);
      }),
    );
  });

  it("too few values or no spread give NaN, never a number", () => {
    expect(momentsOf([]).n).toBe(0);
    expect(momentsOf([]).mean).toBeNaN();
    expect(momentsOf([3]).standardDeviation).toBeNaN();
    expect(momentsOf([3, 4]).skewness).toBeNaN();
    expect(momentsOf([3, 4, 6]).excessKurtosis).toBeNaN();
    const alike = momentsOf(new Float64Array(50).fill(0.1));
    expect(alike.standardDeviation).toBe(0);
    expect(alike.skewness).toBeNaN();
    expect(alike.excessKurtosis).toBeNaN();
  });
});

describe("quantile", () => {
  it("of sorted, unsorted and holed columns is the same", () => {
    expect(quantile([4, 1, Number.NaN, 3, 2], 0.5)).toBe(2.5);
    expect(quantile(Float64Array.of(1, 2, 3, 4), 0.5)).toBe(2.5);
    expect(quantile([1, 2, 3, 4], 0)).toBe(1);
    expect(quantile([1, 2, 3, 4], 1)).toBe(4);
    expect(quantile([7], 0.3)).toBe(7);
  });
  it("does not touch its argument", () => {
    const values = Float64Array.of(3, 1, 2);
    quantile(values, 0.5);
    expect([...values]).toEqual([3, 1, 2]);
    expect([...sortedValues(values)]).toEqual([1, 2, 3]);
  });
  it("of nothing, or outside 0 to 1, is NaN", () => {
    expect(quantile([], 0.5)).toBeNaN();
    expect(quantile([Number.NaN], 0.5)).toBeNaN();
    expect(quantile([1, 2], 1.1)).toBeNaN();
    expect(quantile([1, 2], Number.NaN)).toBeNaN();
  });
});
