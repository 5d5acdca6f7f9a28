import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { classify, classOf, stunting2019, underweight1995, wasting2019 } from "../../src/estimates/classes.js";
import type { ClassScheme } from "../../src/estimates/estimate.js";
import { studentTwoSided } from "../../src/stats/student-t.js";

const nameAt = (scheme: ClassScheme, prevalence: number): string =>
  scheme.classes[classOf(scheme, prevalence)]?.id ?? "";

/** Class and lower limit in per cent, as printed. */
// De Onis et al., Public Health Nutrition 2019;22:175-9: wasting and overweight < 2.5, 2.5 to < 5, 5 to < 10,
// 10 to < 15, >= 15; stunting < 2.5, 2.5 to < 10, 10 to < 20, 20 to < 30, >= 30. WHO Technical Report Series 854, 1995:
// underweight < 10, 10-19, 20-29, >= 30, read as half-open.
const printed = [
  {
    name: "wasting and overweight, 2019",
    scheme: wasting2019,
    id: "who-unicef-2019",
    limits: [
      ["very-low", 0],
      ["low", 2.5],
      ["medium", 5],
      ["high", 10],
      ["very-high", 15],
    ],
  },
  {
    name: "stunting, 2019",
    scheme: stunting2019,
    id: "who-unicef-2019",
    limits: [
      ["very-low", 0],
      ["low", 2.5],
      ["medium", 10],
      ["high", 20],
      ["very-high", 30],
    ],
  },
  {
    name: "underweight, 1995",
    scheme: underweight1995,
    id: "who-1995",
    limits: [
      ["low", 0],
      ["medium", 10],
      ["high", 20],
      ["very-high", 30],
    ],
  },
] as const;

describe("published classes", () => {
  it.each(printed)("$name: a class holds its lower limit and not its upper one", ({ scheme, id, limits }) => {
    expect(scheme.id).toBe(id);
    expect(scheme.classes).toHaveLength(limits.length);
    limits.forEach(([name, percent], i) => {
      expect(nameAt(scheme, percent / 100)).toBe(name);
      const before = limits[i - 1];
      if (before !== undefined) {
        expect(nameAt(scheme, percent / 100 - 1e-9)).toBe(before[0]);
        expect(nameAt(scheme, (before[1] + percent) / 200)).toBe(before[0]);
      }
    });
    expect(nameAt(scheme, 1)).toBe("very-high");
  });

  it("22 % stunting is high in the scheme of 2019, and 19.5 % underweight medium in that of 1995", () => {
    expect(nameAt(stunting2019, 0.22)).toBe("high");
    expect(nameAt(underweight1995, 0.195)).toBe("medium");
  });
});

describe("an estimate against the classes", () => {
  it("names every class the interval touches, lowest first, and the limits of all", () => {
    const wide = classify(wasting2019, 0.104, 0.02, 30, { low: 0.049, high: 0.15 });
    expect(wide).toMatchObject({ scheme: "who-unicef-2019", at: "high" });
    expect(wide.span).toEqual(["low", "medium", "high", "very-high"]);
    expect(wide.limits?.map((limit) => limit.from)).toEqual([0, 0.025, 0.05, 0.1, 0.15]);
    expect(classify(wasting2019, 0.12, 0.005, 30, { low: 0.11, high: 0.1299 }).span).toEqual(["high"]);
  });

  it("an estimate on a limit has half its probability on either side", () => {
    const { at, probabilities } = classify(wasting2019, 0.1, 0.01, 20, { low: 0.08, high: 0.12 });
    expect(at).toBe("high");
    const below = probabilities.slice(0, 3).reduce((sum, part) => sum + part.probability, 0);
    expect(below).toBeCloseTo(0.5, 12);
  });

  it("a probability is that of Student's t between the logits of the limits", () => {
    const [estimate, error, df] = [0.12, 0.015, 28];
    const logit = (p: number): number => Math.log(p / (1 - p));
    const at = (limit: number): number => (logit(limit) - logit(estimate)) / (error / (estimate * (1 - estimate)));
    const { probabilities } = classify(wasting2019, estimate, error, df, { low: 0.09, high: 0.155 });
    const veryHigh = probabilities.find((part) => part.class === "very-high")?.probability;
    expect(veryHigh).toBeCloseTo(studentTwoSided(at(0.15), df) / 2, 12);
  });

  it("the probabilities of the classes add up to 1 and none is negative", () => {
    const share = fc.double({ min: 0.001, max: 0.999, noNaN: true });
    const error = fc.double({ min: 1e-4, max: 0.2, noNaN: true });
    fc.assert(
      fc.property(share, error, fc.integer({ min: 1, max: 200 }), (estimate, standardError, df) => {
        for (const scheme of [wasting2019, stunting2019, underweight1995]) {
          const { probabilities } = classify(scheme, estimate, standardError, df, { low: estimate, high: estimate });
          expect(probabilities).toHaveLength(scheme.classes.length);
          expect(probabilities.reduce((sum, part) => sum + part.probability, 0)).toBeCloseTo(1, 12);
          for (const { probability } of probabilities) expect(probability).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });

  it("without a standard error no probability is given", () => {
    expect(classify(wasting2019, 0, 0, 10, { low: 0, high: 0.03 }).probabilities).toEqual([]);
    expect(classify(wasting2019, 1, 0, 10, { low: 0.9, high: 1 }).probabilities).toEqual([]);
    expect(classify(wasting2019, 0.1, 0.02, 0, { low: 0.05, high: 0.2 }).probabilities).toEqual([]);
  });
});
