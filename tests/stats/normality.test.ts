import { describe, expect, it } from "vitest";
import { andersonDarling, dagostinoPearson } from "../../src/stats/normality.js";
import { randomStream } from "../../src/stats/random.js";
import { expectClose, knownValues } from "./close.js";

const known = knownValues("statistics.json").moments;

describe("Anderson-Darling against nortest 1.0-4", () => {
  it.each(Object.keys(known))("%s", (name) => {
    const result = andersonDarling(known[name].values);
    expectClose(result.statistic, known[name].anderson_darling);
    // 3.7e-24 is the floor of the approximation.
    expectClose(result.probability, known[name].anderson_darling_p);
  });
});

describe("Anderson-Darling of fifty telephone digits", () => {
  it("statistic and probability, in the second piece of the approximation", () => {
    // Data: Conover, Practical Nonparametric Statistics, 1980 (from memory, half of the values seen). Computed outside:
    // statistic 0.33387, probability 0.50237.
    const values = [
      23, 23, 24, 27, 29, 31, 32, 33, 33, 35, 36, 37, 40, 42, 43, 43, 44, 45, 48, 48, 54, 54, 56, 57, 57, 58, 58, 58,
      58, 59, 61, 61, 62, 63, 64, 65, 66, 68, 68, 70, 73, 73, 74, 75, 77, 81, 87, 89, 93, 97,
    ];
    const result = andersonDarling(values);
    expect(result.statistic).toBeCloseTo(0.33387, 5);
    expect(result.probability).toBeCloseTo(0.50237, 5);
  });
});

describe("normality of eleven weights", () => {
  // Data: Shapiro and Wilk, Biometrika 1965 (from memory). Results computed outside with 5 or more figures, not printed there.
  const weights = [148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236];

  it("D'Agostino-Pearson", () => {
    const result = dagostinoPearson(weights);
    expect(result.skewnessZ).toBeCloseTo(2.778858, 6);
    expect(result.kurtosisZ).toBeCloseTo(2.304824, 6);
    expect(result.statistic).toBeCloseTo(13.03426, 5);
    expect(result.probability).toBeCloseTo(0.0014779, 7);
  });
  it("Anderson-Darling", () => {
    const result = andersonDarling(weights);
    expect(result.statistic).toBeCloseTo(0.94677, 5);
    expect(result.adjusted).toBeCloseTo(1.02893, 5);
    expect(result.probability).toBeCloseTo(0.01045, 5);
  });
});

describe("normality tests on drawn samples", () => {
  it("reject about 5 in 100 normal samples at the 5 in 100 level", () => {
    const stream = randomStream(20240);
    let darling = 0;
    let agostino = 0;
    for (let sample = 0; sample < 2000; sample++) {
      const values = Float64Array.from({ length: 100 }, () => stream.normal());
      if (andersonDarling(values).probability < 0.05) darling++;
      if (dagostinoPearson(values).probability < 0.05) agostino++;
    }
    // Four binomial standard errors: 0.05 +- 0.0195; the omnibus test is known to reject slightly more often.
    expect(darling / 2000).toBeGreaterThan(0.03);
    expect(darling / 2000).toBeLessThan(0.07);
    expect(agostino / 2000).toBeGreaterThan(0.03);
    expect(agostino / 2000).toBeLessThan(0.08);
  });
  it("stay numbers with one value far beyond anything", () => {
    const values = Float64Array.from({ length: 3000 }, (_, i) => i / 3000);
    values[5] = 1e9;
    const result = andersonDarling(values);
    expect(result.statistic).toBeGreaterThan(100);
    expect(Number.isFinite(result.statistic)).toBe(true);
  });
  it("cannot tell from fewer than 8 values or from values all alike", () => {
    expect(andersonDarling([1, 2, 3, 4, 5, 6, 7]).probability).toBeNaN();
    expect(andersonDarling(new Float64Array(20).fill(4)).probability).toBeNaN();
    expect(dagostinoPearson([1, 2, 3]).probability).toBeNaN();
    expect(dagostinoPearson(new Float64Array(20).fill(4)).probability).toBeNaN();
  });
});
