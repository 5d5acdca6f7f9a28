import { describe, expect, it } from "vitest";
import { expectedAgeShares, expectedChildren } from "../../src/checks/shared/expected-ages.js";
import { expectedRatioOf } from "../../src/checks/younger-older-ratio/index.js";

describe("expected ages", () => {
  // Computed by hand from the stated model: integral of l(x) exp(-r x) over 6-30 and 30-60 months, deaths 45/30/25%.
  it.each([
    [0, 0, 0.8],
    [0, 0.02, 0.837],
    [0, 0.03, 0.856],
    [50, 0, 0.807],
    [50, 0.02, 0.844],
    [50, 0.03, 0.863],
    [100, 0, 0.814],
    [100, 0.02, 0.851],
    [100, 0.03, 0.871],
    [150, 0, 0.822],
    [150, 0.02, 0.86],
    [150, 0.03, 0.879],
  ])(
    "of %d deaths per 1,000 and births growing by %d a year: ratio %d",
    (underFiveMortality, growthOfBirths, ratio) => {
      expect(Math.abs(expectedRatioOf({ underFiveMortality, growthOfBirths }) - ratio)).toBeLessThan(0.0006);
    },
  );

  it("agrees with numerical integration", () => {
    const expectation = { underFiveMortality: 90, growthOfBirths: 0.025 };
    const alive = (x: number) =>
      1 - 0.09 * (x < 1 ? 0.45 * x : x < 12 ? 0.45 + (0.3 * (x - 1)) / 11 : 0.75 + (0.25 * (x - 12)) / 48);
    let sum = 0;
    const steps = 240_000;
    for (let i = 0; i < steps; i++) {
      const x = (60 * (i + 0.5)) / steps;
      sum += (alive(x) * Math.exp((-0.025 * x) / 12) * 60) / steps;
    }
    expect(expectedChildren(0, 60, expectation)).toBeCloseTo(sum, 7);
  });

  it("gives even shares without deaths and growth, and shares that add up to 1", () => {
    const flat = expectedAgeShares([0, 6, 12, 24, 36, 48, 60], { underFiveMortality: 0, growthOfBirths: 0 });
    [0.1, 0.1, 0.2, 0.2, 0.2, 0.2].forEach((share, i) => {
      expect(flat[i]).toBeCloseTo(share, 14);
    });
    const shares = expectedAgeShares([6, 12, 30, 60], { underFiveMortality: 120, growthOfBirths: -0.01 });
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 14);
  });

  it("is continuous in the growth of births", () => {
    const at = (growthOfBirths: number) => expectedRatioOf({ underFiveMortality: 60, growthOfBirths });
    expect(at(1e-9)).toBeCloseTo(at(0), 6);
  });
});
