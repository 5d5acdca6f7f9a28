import { describe, expect, it } from "vitest";
import { compareIndependent } from "../../../src/stats/design/difference.js";
import { heterogeneityOf } from "../../../src/stats/meta/heterogeneity.js";
import { poolStudies, type Studies, usableStudies } from "../../../src/stats/meta/pool.js";
import { combineStrata } from "../../../src/stats/meta/strata.js";
import { tauSquaredOf } from "../../../src/stats/meta/tau-squared.js";
import { expectClose, knownValues } from "../close.js";

// R 4.2.2 with metafor 3.8-1 (Viechtbauer) and survey 4.1-1 (Lumley); see known-values/stats/README.md.
const known = knownValues("meta.json");
const strata = knownValues("meta-strata.json");

const studiesOf = (name: string): Studies => usableStudies(known[name].yi, known[name].vi);

describe.each(["bcg", "shares", "homogeneous", "two"])("against metafor: %s", (name) => {
  const studies = studiesOf(name);
  const expected = known[name];

  it("fixed-effect mean and Cochran's Q", () => {
    const fixed = poolStudies(studies);
    expectClose(fixed.estimate, expected.fixed.estimate);
    expectClose(Math.sqrt(fixed.variance), expected.fixed.se);
    const found = heterogeneityOf(studies);
    expectClose(found.q, expected.q);
    expect(found.degreesOfFreedom).toBe(expected.q_df);
    expectClose(found.probability, expected.q_probability, 1e-6);
    expectClose(found.iSquared, expected.i2);
  });

  it("variance between studies by restricted maximum likelihood, its interval, and the mean that rests on it", () => {
    const found = tauSquaredOf(studies);
    expectClose(found.tauSquared, expected.reml.tau2, 1e-6);
    expectClose(found.low, expected.q_profile[0], 1e-6);
    expectClose(found.high, expected.q_profile[1], 1e-6);
    const random = poolStudies(studies, found.tauSquared);
    expectClose(random.estimate, expected.reml.estimate, 1e-6);
    expectClose(Math.sqrt(random.variance), expected.reml.se, 1e-6);
  });
});

describe("the BCG trials as printed in the literature", () => {
  // Colditz et al., JAMA 1994;271:698-702: the trials; the figures from memory, see meta.json.
  const printed = known.from_memory.bcg;
  const rows: readonly (readonly [number, number, number, number])[] = known.bcg_trials.rows;
  const studies = usableStudies(
    rows.map(([a, b, c, d]) => Math.log(a / (a + b) / (c / (c + d)))),
    rows.map(([a, b, c, d]) => 1 / a - 1 / (a + b) + 1 / c - 1 / (c + d)),
  );

  it("agree to the digits printed", () => {
    const found = heterogeneityOf(studies);
    const between = tauSquaredOf(studies);
    const random = poolStudies(studies, between.tauSquared);
    expect(found.q).toBeCloseTo(printed.q, 3);
    expect(found.iSquared).toBeCloseTo(printed.i2, 3);
    expect(found.low).toBeCloseTo(printed.i2_interval[0], 3);
    expect(found.high).toBeCloseTo(printed.i2_interval[1], 3);
    expect(between.tauSquared).toBeCloseTo(printed.tau2_reml, 4);
    expect(between.low).toBeCloseTo(printed.tau2_interval[0], 4);
    expect(between.high).toBeCloseTo(printed.tau2_interval[1], 4);
    expect(random.estimate).toBeCloseTo(printed.estimate_reml, 4);
    expect(Math.sqrt(random.variance)).toBeCloseTo(printed.se_reml, 4);
  });
});

describe("when studies agree better than chance", () => {
  it.each([3, 4, 5, 6, 7])("%d studies: I-squared is 0, and its upper limit says what chance could hide", (k) => {
    const studies = usableStudies(new Array(k).fill(0.1), new Array(k).fill(0.01));
    const found = heterogeneityOf(studies);
    expect([found.q, found.iSquared, found.low]).toEqual([0, 0, 0]);
    expect(found.high).toBeCloseTo(known.from_memory.i2_upper_limit_when_q_is_below_df[k], 3);
    expect(tauSquaredOf(studies)).toEqual({ tauSquared: 0, low: 0, high: 0, level: 0.95 });
  });
});

describe("what cannot be told", () => {
  it("one study or none has no heterogeneity", () => {
    for (const values of [[], [0.1]]) {
      const studies = usableStudies(values, new Array(values.length).fill(0.01));
      expect(heterogeneityOf(studies).q).toBeNaN();
      expect(tauSquaredOf(studies).tauSquared).toBeNaN();
    }
    expect(poolStudies(usableStudies([], [])).q).toBeNaN();
  });

  it("two studies have no interval of I-squared", () => {
    const found = heterogeneityOf(studiesOf("two"));
    expect([found.low, found.high]).toEqual([Number.NaN, Number.NaN]);
  });

  it("studies without a value, or without sampling error, are left out", () => {
    const studies = usableStudies([0.1, Number.NaN, 0.2, 0, 0.3], [0.01, 0.01, 0.02, 0, Number.NaN]);
    expect([...studies.values]).toEqual([0.1, 0.2]);
    expect([...studies.variances]).toEqual([0.01, 0.02]);
  });
});

describe("the restricted likelihood", () => {
  it("takes the higher of two peaks: precise studies that agree do not hide wide ones that differ", () => {
    const studies = usableStudies([0, 0.0001, 3, -3, 2.5, -2.5, 4], [1e-6, 1e-6, 0.01, 0.01, 0.01, 0.01, 0.01]);
    // With equal sampling errors beside it, about the variance of the five: the two precise ones pull it down.
    const { tauSquared } = tauSquaredOf(studies);
    expect(tauSquared).toBeGreaterThan(3);
    expect(tauSquared).toBeLessThan(12);
  });

  it("with equal sampling errors it is the variance of the estimates minus the sampling variance", () => {
    const studies = usableStudies([1, 2, 4, 7], [0.5, 0.5, 0.5, 0.5]);
    expectClose(tauSquaredOf(studies).tauSquared, 7 - 0.5, 1e-12);
  });

  it("scales with the square of the unit", () => {
    const { yi, vi } = known.shares;
    const inPercent = usableStudies(
      yi.map((value: number) => 100 * value),
      vi.map((value: number) => 10_000 * value),
    );
    expectClose(tauSquaredOf(inPercent).tauSquared, 10_000 * known.shares.reml.tau2, 1e-6);
  });
});

describe.each(["target", "api00"])("separate surveys of the strata of one population: %s", (variable) => {
  const { merged, strata: separate, ...differences } = strata[variable];
  const part = (name: string) => {
    const { estimate, se, df, population } = separate[name];
    return { estimate, variance: se ** 2, degreesOfFreedom: df, population };
  };

  it("combine to the estimate of the merged survey", () => {
    const found = combineStrata(["E", "H", "M"].map(part));
    expectClose(found.estimate, merged.estimate);
    expectClose(found.standardError, merged.se);
    // Fewer than the 197 of the merged design, more than the smallest part has.
    expect(found.degreesOfFreedom).toBeGreaterThan(49);
    expect(found.degreesOfFreedom).toBeLessThanOrEqual(197);
  });

  it.each(["E_minus_H", "E_minus_M", "H_minus_M"])("differ as contrasts of the merged survey do: %s", (name) => {
    const [first, , second] = name.split("_") as [string, string, string];
    const found = compareIndependent(part(first), part(second));
    expectClose(found.difference, differences[name].difference);
    expectClose(found.standardError, differences[name].se);
  });
});

describe.each(["target", "api00"])("two cluster surveys as strata of one population: %s", (variable) => {
  const { populations, df, [variable]: expected } = strata.clustered;
  const part = (h: 0 | 1) => ({
    estimate: expected.separate.estimate[h],
    variance: expected.separate.se[h] ** 2,
    degreesOfFreedom: h === 0 ? 14 : df - 14,
    population: populations[h],
  });

  it("combine and differ as in the merged design, brought to the known sizes", () => {
    const combined = combineStrata([part(0), part(1)]);
    expectClose(combined.estimate, expected.merged.estimate);
    // The sizes are known, so that they add no error: svymean alone would estimate them from the clusters drawn.
    expectClose(combined.standardError, expected.poststratified.se);
    const found = compareIndependent(part(0), part(1));
    expectClose(found.difference, expected.difference);
    expectClose(found.standardError, expected.difference_se);
  });
});

describe("strata without sampling error, and none", () => {
  it("lower the variance but not the degrees of freedom", () => {
    const one = { estimate: 0.1, variance: 0.0004, degreesOfFreedom: 29, population: 300 };
    const sure = { estimate: 0, variance: 0, degreesOfFreedom: 24, population: 100 };
    const found = combineStrata([one, sure]);
    expectClose(found.estimate, 0.075);
    expectClose(found.standardError, 0.015);
    expectClose(found.degreesOfFreedom, 29);
    expect(combineStrata([]).estimate).toBeNaN();
    expect(combineStrata([{ ...one, variance: Number.NaN }]).standardError).toBeNaN();
  });
});
