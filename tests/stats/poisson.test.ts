import { describe, expect, it } from "vitest";
import { poissonQuantile, poissonUpper } from "../../src/stats/poisson.js";

describe("poisson", () => {
  // SciPy 1.17.1: poisson.sf(2, 1), poisson.sf(11, 3.7).
  it("gives upper tails", () => {
    expect(poissonUpper(3, 1)).toBeCloseTo(0.08030139707139418, 14);
    expect(poissonUpper(12, 3.7)).toBeCloseTo(0.000470201124874435, 15);
    expect(poissonUpper(0, 3.7)).toBe(1);
    expect(poissonUpper(1, 0)).toBe(0);
    expect(poissonUpper(1, Number.NaN)).toBeNaN();
  });

  // SciPy 1.17.1: poisson.ppf.
  it("gives quantiles", () => {
    expect(poissonQuantile(0.5, 3.7)).toBe(4);
    expect(poissonQuantile(0.95, 3.7)).toBe(7);
    expect(poissonQuantile(0.95, 0.05)).toBe(0);
    expect(poissonQuantile(0.999, 120)).toBe(155);
    expect(poissonQuantile(0.95, -1)).toBeNaN();
  });
});
