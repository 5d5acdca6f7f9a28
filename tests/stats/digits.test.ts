import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { digitNoise, simulateDigitNoise, simulateDissimilarityLimit } from "../../src/stats/digit-noise.js";
import { digitNoiseValues } from "../../src/stats/digit-noise-values.js";
import { digitPreference } from "../../src/stats/digit-preference.js";
import { goodnessOfFit } from "../../src/stats/goodness-of-fit.js";
import { randomStream } from "../../src/stats/random.js";
import { expectClose, knownValues } from "./close.js";

const known = knownValues("statistics.json").digits;

describe("digit preference against R's chisq.test and the formulas", () => {
  it.each(Object.keys(known))("%s", (name) => {
    const expected = known[name];
    const result = digitPreference(expected.counts);
    expectClose(result.chiSquare, expected.chi_square);
    expectClose(result.probability, expected.p);
    expectClose(result.score, expected.score);
    expectClose(result.dissimilarity, expected.dissimilarity);
    expect(result.degreesOfFreedom).toBe(9);
  });

  it("all readings on one digit: the worst there is", () => {
    const result = digitPreference([100, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
    expectClose(result.chiSquare, 900);
    expectClose(result.score, 100);
    expectClose(result.dissimilarity, 0.9);
  });

  it("two in five readings end in 0 or 5: 20, 20 and eight times 7.5 in 100", () => {
    // Computed from the formulas: score 16.667, dissimilarity 0.20.
    const result = digitPreference([200, 75, 75, 75, 75, 200, 75, 75, 75, 75]);
    expectClose(result.score, 50 / 3);
    expectClose(result.dissimilarity, 0.2);
  });

  it("score 100 for one digit and 0 to 100 for any, whatever the number of marks", () => {
    const counts = fc.array(fc.nat(300), { minLength: 2, maxLength: 20 });
    fc.assert(
      fc.property(counts, fc.nat(19), fc.integer({ min: 1, max: 500 }), (any, where, n) => {
        fc.pre(any.some((count) => count > 0));
        const result = digitPreference(any);
        expect(result.score).toBeGreaterThanOrEqual(0);
        expect(result.score).toBeLessThanOrEqual(100 + 1e-9);
        expect(result.dissimilarity).toBeLessThanOrEqual(1 - 1 / any.length + 1e-12);
        expect(result.share.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 10);
        const tenfold = digitPreference(any.map((count) => count * 10));
        expectClose(tenfold.score, result.score, 1e-9);
        const single = digitPreference(any.map((_, i) => (i === where % any.length ? n : 0)));
        expectClose(single.score, 100, 1e-9);
        expectClose(single.dissimilarity, 1 - 1 / any.length, 1e-9);
      }),
    );
  });

  it("cannot tell without readings", () => {
    const result = digitPreference(new Uint32Array(10));
    expect(result.score).toBeNaN();
    expect(result.dissimilarity).toBeNaN();
    expect(result.probability).toBeNaN();
    expect(digitPreference([5]).score).toBeNaN();
  });
});

describe("goodness of fit", () => {
  it("boys and girls against two expectations", () => {
    // 480 boys, 420 girls: chi-square 4.000, p 0.0455 against 1 to 1; 1.610, p 0.205 against 1.05 to 1 (computed outside).
    const even = goodnessOfFit([480, 420], [1, 1]);
    expect(even.chiSquare).toBeCloseTo(4, 10);
    expect(even.probability).toBeCloseTo(0.0455, 4);
    const usual = goodnessOfFit([480, 420], [1.05, 1]);
    expect(usual.chiSquare).toBeCloseTo(1.61, 2);
    expect(usual.probability).toBeCloseTo(0.205, 3);
  });
  it("a category that can't be: left out when empty, damning when not", () => {
    expect(goodnessOfFit([10, 10, 0], [1, 1, 0]).degreesOfFreedom).toBe(1);
    expect(goodnessOfFit([10, 10, 0], [1, 1, 0]).chiSquare).toBe(0);
    expect(goodnessOfFit([10, 10, 1], [1, 1, 0]).probability).toBe(0);
  });
  it("refuses shares that do not fit", () => {
    expect(() => goodnessOfFit([1, 2], [1])).toThrow(RangeError);
    expect(() => goodnessOfFit([1, 2], [1, -1])).toThrow(RangeError);
    expect(goodnessOfFit([0, 0], [1, 1]).chiSquare).toBeNaN();
  });
});

describe("digit noise", () => {
  // Simulated outside this project, 4,000 samples: mean and 95th percentile of score and dissimilarity, one decimal. (For
  // 120 readings that simulation gave a mean score of 9.0; the large-sample form gives 8.88, ours 8.84.)
  it.each([
    [60, 12.6, 17.6, 0.153, 0.217],
    [120, 9.0, 12.6, 0.109, 0.158],
    [400, 4.9, 6.9, 0.06, 0.085],
    [900, 3.2, 4.6, 0.04, 0.057],
  ])("of %d readings", (n, scoreMean, score95, dissimilarityMean, dissimilarity95) => {
    const noise = digitNoise(n);
    expect(Math.abs(noise.score.mean - scoreMean)).toBeLessThan(0.2);
    expect(Math.abs(noise.score.upper95 - score95)).toBeLessThan(0.25);
    expect(Math.abs(noise.dissimilarity.mean - dissimilarityMean)).toBeLessThan(0.002);
    expect(Math.abs(noise.dissimilarity.upper95 - dissimilarity95)).toBeLessThan(0.004);
  });

  it("mean dissimilarity by listing every outcome of 3 readings on 2 digits, and of 4 on 3", () => {
    // 3 on 2: splits 3-0 (2 of 8 outcomes, 0.5) and 2-1 (6 of 8, 1/6). 4 on 3: 4-0-0 (3 of 81, 2/3), 3-1-0 (24, 5/12),
    // 2-2-0 (18, 1/3), 2-1-1 (36, 1/6).
    expectClose(digitNoise(3, 2).dissimilarity.mean, (2 * 0.5 + 6 / 6) / 8, 1e-12);
    expectClose(digitNoise(4, 3).dissimilarity.mean, ((3 * 2) / 3 + (24 * 5) / 12 + 18 / 3 + 36 / 6) / 81, 1e-12);
    // Large n: 0.5 sqrt(2 (categories - 1) / (pi n)).
    expectClose(digitNoise(1e6).dissimilarity.mean, (0.5 * Math.sqrt(18 / Math.PI)) / 1000, 1e-4);
  });

  it("runs on without a step from simulation to the large-sample form", () => {
    for (const categories of [2, 5, 10]) {
      const simulated = digitNoise(150, categories);
      const large = digitNoise(151, categories);
      for (const kind of ["score", "dissimilarity"] as const) {
        for (const field of ["mean", "upper95"] as const) {
          expect(simulated[kind][field] / large[kind][field], `${categories} ${kind} ${field}`).toBeGreaterThan(0.94);
          expect(simulated[kind][field] / large[kind][field], `${categories} ${kind} ${field}`).toBeLessThan(1.06);
        }
      }
    }
  });

  it("is passed by about 5 in 100 of drawn samples", () => {
    const stream = randomStream(77);
    for (const n of [45, 300]) {
      const noise = digitNoise(n);
      const above = { s95: 0, d95: 0 };
      const samples = 4000;
      for (let sample = 0; sample < samples; sample++) {
        const counts = new Uint32Array(10);
        for (let i = 0; i < n; i++) {
          const digit = stream.below(10);
          counts[digit] = (counts[digit] as number) + 1;
        }
        const { score, dissimilarity } = digitPreference(counts);
        if (score > noise.score.upper95 + 1e-9) above.s95++;
        if (dissimilarity > noise.dissimilarity.upper95 + 1e-9) above.d95++;
      }
      for (const share of [above.s95 / samples, above.d95 / samples]) {
        expect(share).toBeGreaterThan(0.03);
        expect(share).toBeLessThan(0.065);
      }
    }
  });

  it("is listed as the simulation gives it", () => {
    for (const [categories, n] of [2, 5, 10].flatMap((each) =>
      [25, 26, 60, 97, 149, 150].map((n) => [each, n] as const),
    )) {
      const { score, dissimilarity } = simulateDigitNoise(n, categories);
      expect(digitNoise(n, categories), `${n} readings of ${categories}`).toEqual({ score, dissimilarity });
      expect(digitNoiseValues[categories]?.samples).toHaveLength(126);
      expect(digitNoiseValues[categories]?.limit).toBe(simulateDissimilarityLimit(categories));
    }
    // A scale that is not listed is simulated when asked for.
    expect(digitNoise(40, 4)).toEqual(simulateDigitNoise(40, 4));
  });

  it("is the same each time, falls with n, and is NaN where nothing was read", () => {
    expect(digitNoise(37)).toEqual(digitNoise(37));
    expect(digitNoise(1).score.mean).toBeCloseTo(100, 9);
    const means = [5, 20, 80, 200, 2000].map((n) => digitNoise(n).score.mean);
    expect([...means].sort((a, b) => b - a)).toEqual(means);
    expect(digitNoise(0).score.upper95).toBeNaN();
    expect(digitNoise(10, 1).score.upper95).toBeNaN();
  });
});
