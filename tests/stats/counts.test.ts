import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { chiSquareUpper } from "../../src/stats/chi-square.js";
import { binomialHeterogeneity, varianceToMean } from "../../src/stats/dispersion.js";
import { benjaminiHochberg } from "../../src/stats/false-discovery.js";
import { holm } from "../../src/stats/holm.js";
import { myersBlended } from "../../src/stats/myers.js";
import { expectClose } from "./close.js";

describe("dispersion of counts", () => {
  it("ten counts", () => {
    // Worked out outside: variance 2.6667, ratio 1.3333, chi-square 12 on 9, p 0.2133, Green's index 0.01754.
    const result = varianceToMean([0, 1, 2, 2, 3, 0, 5, 1, 2, 4]);
    expectClose(result.ratio, 4 / 3);
    expectClose(result.chiSquare, 12);
    expect(result.degreesOfFreedom).toBe(9);
    expect(result.probability).toBeCloseTo(0.2133, 4);
    expect(result.greenIndex).toBeCloseTo(0.01754, 5);
    expectClose(result.probability + result.probabilityLower, 1);
  });

  it.each([
    // J Ecosyst Ecography 2013;3:136, Table 1 (read): ratio, quadrats, chi-square as printed.
    [1.517, 16, 22.76],
    [2.268, 36, 79.36],
    [2.667, 64, 168.0],
  ])("ratio %d over %d quadrats", (ratio, quadrats, chiSquare) => {
    // Counts of any mean m > 1 whose variance is ratio * m: half of them m - d, half m + d, d^2 = ratio m (n - 1)/n.
    const mean = 50;
    const half = Math.sqrt((ratio * mean * (quadrats - 1)) / quadrats);
    const counts = Array.from({ length: quadrats }, (_, i) => mean + (i % 2 === 0 ? half : -half));
    const result = varianceToMean(counts);
    expectClose(result.ratio, ratio);
    // The ratio is printed to 3 decimals, so the product can be off by half a thousandth times the degrees of freedom.
    expect(Math.abs(result.chiSquare - chiSquare)).toBeLessThan(0.0005 * (quadrats - 1) + 0.005);
  });

  it("Green's index is 1 when all cases lie in one place and about 0 under chance", () => {
    expectClose(varianceToMean([30, 0, 0, 0, 0]).greenIndex, 1);
    expect(varianceToMean([6, 6, 6, 6, 6]).ratio).toBe(0);
    expect(varianceToMean([6, 6, 6, 6, 6]).probabilityLower).toBe(0);
    expect(varianceToMean([0, 0, 0]).ratio).toBeNaN();
    expect(varianceToMean([4]).probability).toBeNaN();
  });
});

describe("heterogeneity of shares", () => {
  it("for equal sizes is the variance ratio of a binomial", () => {
    const cases = [2, 5, 3, 0, 4, 1];
    const result = binomialHeterogeneity(cases, new Array(6).fill(20));
    // (C - 1) s^2 / (n p (1 - p)) with s^2 = 3.5, p = 0.125, n = 20: 17.5 / 2.1875 = 8.
    expectClose(result.chiSquare, 8);
    expect(result.degreesOfFreedom).toBe(5);
    expectClose(result.probability, chiSquareUpper(8, 5));
    expectClose(result.probabilityLower, 1 - chiSquareUpper(8, 5));
  });
  it("is Pearson's chi-square of the two-way table, leaves empty places out, and cannot tell without cases", () => {
    const cases = [3, 0, 9];
    const sizes = [10, 0, 15];
    // 2 by 2 table 3, 7, 9, 6: chi-square = 25 (18 - 63)^2 / (10 * 15 * 12 * 13).
    expectClose(binomialHeterogeneity(cases, sizes).chiSquare, (25 * 45 ** 2) / (10 * 15 * 12 * 13));
    expect(binomialHeterogeneity(cases, sizes).degreesOfFreedom).toBe(1);
    expect(binomialHeterogeneity([0, 0], [10, 10]).probability).toBeNaN();
    expect(binomialHeterogeneity([10, 10], [10, 10]).probability).toBeNaN();
    expect(() => binomialHeterogeneity([1], [2, 3])).toThrow(RangeError);
  });
});

/** One age a person for a count at each age. */
function ages(from: number, to: number, count: (age: number) => number): number[] {
  const all: number[] = [];
  for (let age = from; age <= to; age++) for (let i = 0; i < count(age); i++) all.push(age);
  return all;
}

describe("Myers' blended index", () => {
  // Values derived outside from the definition with equal numbers of terms.
  it("is 0 for flat ages and for ages that fall in a straight line", () => {
    expect(
      myersBlended(
        ages(10, 89, () => 100),
        10,
        7,
      ).index,
    ).toBeCloseTo(0, 10);
    expect(
      myersBlended(
        ages(10, 89, (age) => 1000 - 10 * age),
        10,
        7,
      ).index,
    ).toBeCloseTo(0, 10);
    expect(
      myersBlended(
        ages(13, 72, (age) => 1000 - 10 * age),
        13,
        5,
      ).index,
    ).toBeCloseTo(0, 10);
  });
  it("is 16 when ages ending in 0 and 5 hold 180 and the others 80", () => {
    const result = myersBlended(
      ages(10, 89, (age) => (age % 5 === 0 ? 180 : 80)),
      10,
      7,
    );
    expect(result.index).toBeCloseTo(16, 10);
    expect(result.shares[0]).toBeCloseTo(0.18, 10);
    expect(result.shares[5]).toBeCloseTo(0.18, 10);
    expect(result.shares[7]).toBeCloseTo(0.08, 10);
  });
  it("is 90 when all ages end in one digit", () => {
    expect(
      myersBlended(
        ages(10, 89, (age) => (age % 10 === 0 ? 50 : 0)),
        10,
        7,
      ).index,
    ).toBeCloseTo(90, 10);
    expect(
      myersBlended(
        ages(13, 92, (age) => (age % 10 === 4 ? 50 : 0)),
        13,
        7,
      ).shares[4],
    ).toBeCloseTo(1, 10);
  });
  it("uses the range only and cannot tell without ages", () => {
    const result = myersBlended([5, 9, Number.NaN, 90, 10.9], 10, 7);
    expect(result.n).toBe(1);
    expect(myersBlended([], 10, 7).index).toBeNaN();
  });
});

describe("many tests at once", () => {
  it("Benjamini and Hochberg's fifteen probabilities", () => {
    // Benjamini and Hochberg 1995, section 4.2 (from memory): at 0.05 four of the fifteen are kept, Bonferroni keeps three.
    const probabilities = [
      0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528, 0.759, 1,
    ];
    expect(benjaminiHochberg(probabilities).filter((p) => p <= 0.05)).toHaveLength(4);
    expect(holm(probabilities).filter((p) => p <= 0.05)).toHaveLength(3);
    expectClose(benjaminiHochberg(probabilities)[3] as number, (0.0095 * 15) / 4);
    expectClose(holm(probabilities)[3] as number, 0.0095 * 12);
  });
  it("NaN stays NaN and is not counted; order is kept; nothing gets smaller or exceeds 1", () => {
    expect(benjaminiHochberg([0.04, Number.NaN, 0.01])).toEqual([0.04, Number.NaN, 0.02]);
    expect(holm([0.04, Number.NaN, 0.01])).toEqual([0.04, Number.NaN, 0.02]);
    expect(holm([])).toEqual([]);
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 40 }), (probabilities) => {
        const discovery = benjaminiHochberg(probabilities);
        const family = holm(probabilities);
        probabilities.forEach((p, i) => {
          expect(discovery[i]).toBeGreaterThanOrEqual(p * (1 - 1e-12));
          expect(family[i]).toBeGreaterThanOrEqual((discovery[i] as number) * (1 - 1e-12));
          expect(family[i]).toBeLessThanOrEqual(1);
          probabilities.forEach((q, j) => {
            if (p < q) expect(discovery[i]).toBeLessThanOrEqual(discovery[j] as number);
          });
        });
      }),
    );
  });
});
