import { describe, expect, it } from "vitest";
import { pool, poolAll } from "../../src/consequence/pooling.js";
import type { Reestimate } from "../../src/consequence/scenario.js";

const estimate = (value: number, variance: number, degreesOfFreedom: number): Reestimate => ({
  estimate: "wasting",
  value,
  variance,
  degreesOfFreedom,
  low: null,
  high: null,
  n: 500,
  speaks: { members: new Uint8Array(0), isCase: null, atRandom: true },
});

describe("pooling by Rubin's rules", () => {
  // Worked by hand, in fractions. Estimates 0.10, 0.12, 0.14, each with variance 0.0004: mean 0.12, W = 0.0004,
  // B = (0.0004 + 0 + 0.0004) / 2 = 0.0004, total = 0.0004 + (4/3) 0.0004 = 0.0028 / 3; share of B = (4/3) / (7/3) = 4/7.
  // With 30 degrees of freedom: a = 2 / (16/49) = 6.125; b = (31/33) 30 (3/7) = 12.077922...; df = ab / (a + b) = 4.064...
  const runs = [estimate(0.1, 0.0004, 30), estimate(0.12, 0.0004, 30), estimate(0.14, 0.0004, 30)];

  it("gives the value, variance and degrees of freedom worked by hand", () => {
    const pooled = pool(runs);
    const b = (31 / 33) * 30 * (3 / 7);
    expect(pooled.value).toBeCloseTo(0.12, 12);
    expect(pooled.variance).toBeCloseTo(0.0028 / 3, 12);
    expect(pooled.degreesOfFreedom).toBeCloseTo((6.125 * b) / (6.125 + b), 10);
    expect(pooled.degreesOfFreedom).toBeCloseTo(4.0641, 3);
    expect(pooled.low).toBeLessThan(0.12 - 2 * Math.sqrt(0.0004));
    expect(pooled.high).toBeGreaterThan(0.12 + 2 * Math.sqrt(0.0004));
  });

  it("approaches Rubin's own degrees of freedom, (m - 1) / share^2, in a very large sample", () => {
    // Barnard and Rubin 1999: the adjusted degrees of freedom tend to Rubin's (1987) as those of the complete data grow.
    const large = runs.map((run) => ({ ...run, degreesOfFreedom: 1e9 }));
    expect(pool(large).degreesOfFreedom).toBeCloseTo(6.125, 5);
  });

  it("never has more degrees of freedom than the complete data, and just under them without variance between the sets", () => {
    expect(pool(runs).degreesOfFreedom).toBeLessThan(30);
    const alike = [estimate(0.1, 0.0004, 30), estimate(0.1, 0.0004, 30)];
    expect(pool(alike)).toMatchObject({ value: 0.1, degreesOfFreedom: 30 });
    expect(pool(alike).variance).toBeCloseTo(0.0004, 15);
  });

  it("gives an estimate that was not drawn back as it is, and keeps a share of 0 with an interval", () => {
    const same = estimate(0.123, 0.0001, 20);
    expect(pool([same, same, same])).toBe(same);
    const none = pool([estimate(0, 0, 30), estimate(0, 0, 30)]);
    expect(none.value).toBe(0);
    expect(none.low).toBe(0);
    expect(none.high).toBeGreaterThan(0.005);
    expect(poolAll([[same], [same]])).toEqual([same]);
  });

  it("does not take the rounding of a sum for a change", () => {
    // Nine times 0.1 added up and divided by nine is not 0.1: 0.09999999999999999.
    const tenths = Array.from({ length: 9 }, () => estimate(0.1, 0.0004, 30));
    expect(tenths.reduce((sum, one) => sum + one.value, 0) / 9).not.toBe(0.1);
    expect(pool(tenths)).toMatchObject({ value: 0.1, variance: 0.0004, degreesOfFreedom: 30 });
    const noisy = tenths.map((one, i) => ({ ...one, value: i % 2 === 0 ? 0.1 : 0.1 + 1.4e-17 * i }));
    expect(pool(noisy).degreesOfFreedom).toBe(30);
    // A change that is one is seen, however small.
    expect(pool([estimate(0.1, 0.0004, 30), estimate(0.1 + 1e-6, 0.0004, 30)]).degreesOfFreedom).toBeLessThan(30);
  });

  it("has no interval without degrees of freedom", () => {
    const single = pool([estimate(0.1, 0.0004, 0), estimate(0.12, 0.0004, 0)]);
    expect(single).toMatchObject({ low: null, high: null });
  });
});
