import { describe, expect, it } from "vitest";
import { armDigits } from "../../src/checks/arm-digits/index.js";
import type { Children } from "../../src/derive/children.js";
import { expectComplete, itHolds, resultOf } from "./check-support.js";
import { cleanSurvey } from "./clean-survey.js";

itHolds(armDigits);

function rounded(children: Children, to: number, step: number, every = 1): Children {
  const arm = children.arm as NonNullable<Children["arm"]>;
  const values = arm.values.map((value, child) => (child % every === 0 ? Math.round(value / to) * to : value));
  return { ...children, arm: { ...arm, values, step } };
}

describe("arm-digits", () => {
  it("half of the readings on 0 and 5: explain", () => {
    const result = resultOf(armDigits, rounded(cleanSurvey({ seed: 21 }), 5, 1, 2));
    expect(result.reading).toBe("explain");
    expect(result.finding.id).toBe("checks.arm-digits.finding.preferred");
    expect(result.quantities.find(({ id }) => id === "digit-share-zero-or-five")?.value).toBeGreaterThan(0.5);
    expectComplete(result);
  });

  it("a tape read to 5 mm: the step needs explaining, its two digits are even", () => {
    const result = resultOf(armDigits, rounded(cleanSurvey({ seed: 22 }), 5, 5));
    expect(result.finding.id).toBe("checks.arm-digits.finding.step");
    expect(result.reading).toBe("explain");
    expect(result.charts[0]?.kind === "category-shares" && result.charts[0].panels[0]?.bars.length).toBe(2);
  });

  it("a tape read to whole centimetres: doubt, no digit left to read", () => {
    const result = resultOf(armDigits, rounded(cleanSurvey({ seed: 23 }), 10, 10));
    expect(result.reading).toBe("doubt");
    expect(result.charts).toEqual([]);
    expectComplete(result);
  });
});
