import { describe, expect, it } from "vitest";
import { digitScale, digitsAreEven } from "../../src/checks/shared/digit-scale.js";
import { weightDigits } from "../../src/checks/weight-digits/index.js";
import { expectComplete, itHolds, resultOf } from "./check-support.js";
import { cleanSurvey } from "./clean-survey.js";
import { makeChildren } from "./make-children.js";

itHolds(weightDigits);

/** Readings with the digit counts given, spread over whole kilograms 5 to 14. */
function readings(counts: readonly number[], step = 0.1): number[] {
  return counts.flatMap((count, digit) => Array.from({ length: count }, (_, i) => 5 + (i % 10) + digit * step));
}

const quantity = (result: ReturnType<typeof resultOf>, id: string) => result.quantities.find((one) => one.id === id);

describe("weight-digits", () => {
  it("textbook exercise: last digits of 80 weights", () => {
    // Digits 0 to 9 = 15, 5, 3, 8, 5, 17, 7, 6, 9, 5; expected 8 each, critical value 16.919 (confirmed: a textbook
    // exercise read on a teaching page). Chi-square 23.5, p 0.00517, score 18.066, dissimilarity 0.2125: computed by hand
    // and in R 4.2.2.
    const weight = readings([15, 5, 3, 8, 5, 17, 7, 6, 9, 5]);
    const result = resultOf(weightDigits, makeChildren({ count: 80, weight }));
    expect(quantity(result, "digit-chi-square")?.value).toBeCloseTo(23.5, 10);
    expect(quantity(result, "digit-chi-square")?.probability).toBeCloseTo(0.00516588198, 8);
    expect(quantity(result, "digit-preference-score")?.value).toBeCloseTo(18.0662361572, 8);
    expect(quantity(result, "digit-dissimilarity")?.value).toBeCloseTo(0.2125, 10);
    expect(quantity(result, "digit-share-zero-or-five")?.value).toBeCloseTo(0.4, 10);
    expect(result.reading).toBe("explain");
    expectComplete(result);
  });

  it("half and half on 0 and 5: doubt, and the spread that rounding adds", () => {
    const result = resultOf(
      weightDigits,
      makeChildren({ count: 200, weight: readings([100, 0, 0, 0, 0, 100, 0, 0, 0, 0]) }),
    );
    expect(result.reading).toBe("doubt");
    // Excess on either digit (0.5 - 0.1) / 0.9; variance excess (1^2 + 0.5^2) / 12.
    expect(quantity(result, "digit-added-spread")?.value).toBeCloseTo(Math.sqrt(((0.4 / 0.9) * 1.25) / 12), 10);
    expect(quantity(result, "digit-preference-score")?.value).toBeCloseTo(66.6666667, 6);
  });

  it.each([
    [0.1, 0.1, 10, "9"],
    [0.01, 0.1, 10, "9"],
    [0.05, 0.1, 10, "9"],
    [0.2, 0.1, 2 + 3, "8"],
    [0.5, 0.1, 2, "5"],
    [1, 0.1, 10, "9"],
    [0.25, 0.1, 4, "7.5"],
    [5, 1, 2, "5"],
  ])("a step of %d against a resolution of %d has %d digits, the last %s", (step, resolution, count, last) => {
    const scale = digitScale(step, resolution);
    expect(scale?.count).toBe(count);
    expect(scale?.labels.at(-1)).toBe(last);
  });

  it("a step that fits no digits has no scale", () => {
    expect(digitScale(0.3, 0.1)).toBeNull();
  });

  it("a scale read to 0.5 kg: only the digits 0 and 5, and the step is said", () => {
    const weight = Array.from({ length: 400 }, (_, i) => 5 + (i % 20) / 2);
    const result = resultOf(weightDigits, makeChildren({ count: 400, weight, steps: { weight: 0.5 } }));
    expect(result.finding.id).toBe("checks.weight-digits.finding.step");
    expect(result.reading).toBe("explain");
    expect(quantity(result, "digit-share-zero")?.chance?.expected).toBe(0.5);
    expect(quantity(result, "digit-step-spread")?.value).toBeCloseTo(0.5 / Math.sqrt(12), 10);
    expectComplete(result);
  });

  it("a two-decimal scale: the tenths are read", () => {
    const weight = Array.from({ length: 1000 }, (_, i) => 5 + i / 100);
    const result = resultOf(weightDigits, makeChildren({ count: 1000, weight, steps: { weight: 0.01 } }));
    expect(result.reading).toBe("expected");
    expect(quantity(result, "digit-chi-square")?.value).toBe(0);
  });

  it("whole kilograms: digits cannot be read, the step alone casts doubt", () => {
    const weight = Array.from({ length: 300 }, (_, i) => 6 + (i % 9));
    const result = resultOf(weightDigits, makeChildren({ count: 300, weight, steps: { weight: 1 } }));
    expect(result.reading).toBe("doubt");
    expect(result.meaning.map(({ id }) => id)).toContain("checks.digits.meaning.narrow");
    expect(quantity(result, "digit-chi-square")).toBeUndefined();
    expectComplete(result);
  });

  it("the noise model holds for weights of clean surveys: p under 0.05 in about 5 of 100", () => {
    let below = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const p = quantity(resultOf(weightDigits, cleanSurvey({ seed })), "digit-chi-square")?.probability ?? Number.NaN;
      if (p < 0.05) below++;
    }
    // Binomial with 200 and 0.05: 3 to 19 in 999 of 1,000.
    expect(below).toBeGreaterThanOrEqual(3);
    expect(below).toBeLessThanOrEqual(19);
    expect(digitsAreEven(1, 1)).toBe(true);
    expect(digitsAreEven(3, 10)).toBe(false);
  });

  it("a small team with the unevenness of chance is not named", () => {
    const base = cleanSurvey({ seed: 3 });
    const team = { ...(base.team as NonNullable<typeof base.team>) };
    const codes = team.codes.map((code, child) => (child < 30 ? team.labels.length : code));
    const labels = [...team.labels, "T9"];
    const children = { ...base, team: { ...team, codes, labels, publicLabels: labels } };
    const result = resultOf(weightDigits, children);
    expect(result.groups.find(({ label }) => label === "T9")?.reading).not.toBe("doubt");
    expect(result.reading).toBe("expected");
  });
});
