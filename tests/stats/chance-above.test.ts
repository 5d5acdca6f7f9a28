import { describe, expect, it } from "vitest";
import {
  chanceAtOrAbove,
  meanChanceAtOrAbove,
  mixtureInterval,
  type ShareWithError,
} from "../../src/stats/chance-above.js";
import { proportionInterval } from "../../src/stats/design/interval.js";
import { expectClose, knownValues } from "./close.js";

const share = (estimate: number, standardError: number, degreesOfFreedom: number, n = 900): ShareWithError => ({
  ...{ estimate, standardError, degreesOfFreedom, n },
});

describe("the chance of lying at or above a limit", () => {
  // t.cdf((logit p - logit L) p (1 - p) / se, df) by SciPy 1.17.1.
  it.each([
    [0.098, 0.0148, 34, 0.1, 0.4471266423208378],
    [0.098, 0.0148, 34, 0.05, 0.9999375284100336],
    [0.302, 0.021, 57, 0.3, 0.5378412815006284],
    [0.02, 0.006, 29, 0.05, 0.002167478775027363],
    [0.5, 0.03, 3, 0.6, 0.021563562170866635],
    [0.9, 0.02, 12, 0.85, 0.9702837803208935],
  ])("%f with standard error %f and %i degrees of freedom, limit %f", (p, error, df, limit, expected) => {
    expectClose(chanceAtOrAbove(share(p, error, df), limit), expected, 1e-8);
  });

  it("is 0.975 and 0.025 at the ends of the logit interval of R's package survey", () => {
    // svyciprop(method = "logit") on the public api data, survey 4.1.1: tests/known-values/stats/survey-estimation.json.
    const known = knownValues("survey-estimation.json");
    let looked = 0;
    for (const design of Object.values(known) as Record<string, Record<string, unknown>>[]) {
      for (const one of Object.values(design ?? {})) {
        const { estimate, se, degrees_of_freedom: df, ci_logit: interval } = one ?? {};
        if (!Array.isArray(interval) || typeof estimate !== "number" || !(estimate > 0 && estimate < 1)) continue;
        const own = share(estimate, se as number, df as number);
        expectClose(chanceAtOrAbove(own, interval[0]), 0.975, 1e-8);
        expectClose(chanceAtOrAbove(own, interval[1]), 0.025, 1e-6);
        looked += 1;
      }
    }
    expect(looked).toBeGreaterThan(2);
  });

  it("is exact with no cases, nothing but cases, and clusters that are all alike", () => {
    // Beta distributions by SciPy 1.17.1, on n / 1.5 rows.
    expectClose(chanceAtOrAbove(share(0, 0, 20, 300), 0.01), 0.13397967485796192);
    expectClose(chanceAtOrAbove(share(1, 0, 20, 300), 0.99), 0.8660203251420383);
    expectClose(chanceAtOrAbove(share(0.1, 0, 20, 90), 0.15), 0.14081991160482643);
  });

  it("of no cases is 0.025 at the upper end of the interval that is printed", () => {
    const none = share(0, 0, 29, 620);
    expectClose(chanceAtOrAbove(none, proportionInterval(none).high), 0.025);
    expect(chanceAtOrAbove(none, 0)).toBe(1);
  });

  it("is certain outside what a share can be, and not to be had where there is no interval", () => {
    expect(chanceAtOrAbove(share(0.1, 0.02, 20), -0.1)).toBe(1);
    expect(chanceAtOrAbove(share(0.1, 0.02, 20), 1)).toBe(0);
    expect(chanceAtOrAbove(share(0.1, 0.02, 0), 0.1)).toBeNaN();
    expect(chanceAtOrAbove(share(Number.NaN, 0.02, 9), 0.1)).toBeNaN();
    expect(chanceAtOrAbove(share(0.1, 0.02, 20, 0), 0.1)).toBeNaN();
  });
});

describe("the mixture of several shares", () => {
  const shares = [share(0.08, 0.012, 30), share(0.1, 0.013, 29), share(0.13, 0.02, 28)];

  it("has the interval that root finding gives", () => {
    // scipy.optimize.brentq on the mean of the three t distributions, SciPy 1.17.1.
    const interval = mixtureInterval(shares, 0.95);
    expectClose(interval?.low ?? Number.NaN, 0.06388782982604962);
    expectClose(interval?.high ?? Number.NaN, 0.16262636023160035);
  });

  it("has the mean of the chances, without those that cannot be had", () => {
    const mean = shares.reduce((sum, one) => sum + chanceAtOrAbove(one, 0.1), 0) / 3;
    expectClose(meanChanceAtOrAbove([...shares, share(0.1, 0.02, 0)], 0.1), mean);
    expect(meanChanceAtOrAbove([], 0.1)).toBeNaN();
  });

  it("of shares that are one and the same is the interval of that one", () => {
    const one = share(0.1, 0.013, 29);
    expect(mixtureInterval([one, { ...one }], 0.95)).toEqual({
      low: proportionInterval(one).low,
      high: proportionInterval(one).high,
    });
    expect(mixtureInterval([share(0.1, 0.02, 0)], 0.95)).toBeNull();
  });
});
