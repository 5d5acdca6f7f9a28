import { describe, expect, it } from "vitest";
import { logitInterval, meanInterval, proportionInterval } from "../../../src/stats/design/interval.js";
import { estimateMean } from "../../../src/stats/design/mean.js";
import { estimateProportion, type ProportionEstimate } from "../../../src/stats/design/proportion.js";
import { raoScott } from "../../../src/stats/design/rao-scott.js";
import { estimateStandardDeviation } from "../../../src/stats/design/standard-deviation.js";
import { coded, expectClose } from "../close.js";
import { domain, knownSurvey, surveyNames } from "./known-surveys.js";

// R 4.2.2 with survey 4.1-1 (Lumley), on its example data; see known-values/stats/README.md.

interface KnownShare {
  readonly estimate: number;
  readonly se: number;
  readonly deff: number | null;
  readonly degrees_of_freedom: number;
  readonly n: number;
  readonly ci_xlogit: readonly number[];
  readonly ci_beta: readonly number[];
  readonly ci_mean: readonly number[];
}

/** Compares one share; returns how many numbers were compared. */
function compareShare(actual: ProportionEstimate, expected: KnownShare, what: string): number {
  expectClose(actual.estimate, expected.estimate, 1e-8, `${what} estimate`);
  expectClose(actual.standardError, expected.se, 1e-8, `${what} standard error`);
  expect(actual.degreesOfFreedom, what).toBe(expected.degrees_of_freedom);
  expect(actual.n, what).toBe(expected.n);
  if (expected.estimate === 0) {
    // The package's own interval has no meaning here; ours is exact, from 0.
    expect(actual.designEffect).toBeNaN();
    const interval = proportionInterval(actual);
    expect(interval.method).toBe("exact");
    expect(interval.low).toBe(0);
    expectClose(interval.high, 1 - 0.025 ** (1.5 / expected.n));
    return 6;
  }
  if (expected.deff === null) expect(actual.designEffectWithoutReplacement, what).toBeNaN();
  // The package recovers the population count from weights, so a deff of exactly 1 comes out as 1 +- 2e-9 there and here.
  else expectClose(actual.designEffectWithoutReplacement, expected.deff, 1e-8, `${what} deff`);
  const { estimate, standardError, degreesOfFreedom } = actual;
  const logit = logitInterval(estimate, standardError, degreesOfFreedom);
  const mean = meanInterval(estimate, standardError, degreesOfFreedom);
  expectClose(logit.low, expected.ci_xlogit[0] as number, 1e-8, `${what} logit`);
  expectClose(logit.high, expected.ci_xlogit[1] as number, 1e-8, `${what} logit`);
  expectClose(mean.low, expected.ci_mean[0] as number, 1e-8, `${what} mean`);
  expectClose(mean.high, expected.ci_mean[1] as number, 1e-8, `${what} mean`);
  const printed = proportionInterval(actual);
  expect(printed).toEqual({ ...logit, method: "logit" });
  return 9;
}

describe.each(surveyNames)("%s", (name) => {
  const { design, column, schoolType, expected } = knownSurvey(name);
  const everyone = domain(design.count, () => true);

  it.each(["target", "rare"])("share, whole sample and by type of school: %s", (variable) => {
    const values = column(variable);
    let compared = compareShare(estimateProportion(design, values, everyone), expected[variable], variable);
    for (const type of ["E", "H", "M"]) {
      const inType = domain(design.count, (i) => schoolType[i] === type);
      const actual = estimateProportion(design, values, inType);
      compared += compareShare(actual, expected[`${variable}_by_stype`][type], `${variable} ${type}`);
    }
    expect(compared).toBeGreaterThanOrEqual(24);
  });

  it("shares of nobody and of everybody", () => {
    const none = estimateProportion(design, column("none"), everyone);
    const all = estimateProportion(design, column("all"), everyone);
    expect([none.estimate, none.standardError, all.estimate, all.standardError]).toEqual([0, 0, 1, 0]);
    const below = proportionInterval(none);
    const above = proportionInterval(all);
    expect([below.method, above.method]).toEqual(["exact", "exact"]);
    expect(below.low).toBe(0);
    expect(above.high).toBe(1);
    expectClose(above.low, 1 - below.high);
    expectClose(below.high, 1 - 0.025 ** (1.5 / design.count));
  });

  it.each(["api00", "enroll"])("mean and standard deviation: %s", (variable) => {
    const values = column(variable);
    const mean = estimateMean(design, values, everyone);
    expectClose(mean.estimate, expected[variable].mean);
    expectClose(mean.standardError, expected[variable].se);
    const spread = estimateStandardDeviation(design, values, everyone);
    // The package's factor n / (n - 1) counts the rows with a missing value too (apiclus2: 126, of which 6 have no
    // enrolment); ours counts the rows used. Without missing values both are the same.
    const { n } = spread;
    const theirs = (design.count / (design.count - 1)) * ((n - 1) / n);
    expectClose(spread.varianceOfValues * theirs, expected[variable].variance);
    expectClose(spread.estimate * Math.sqrt(theirs), expected[variable].sd);
    expect(n).toBe(values.filter((value) => !Number.isNaN(value)).length);
  });

  it("Rao-Scott test of target by type of school", () => {
    const { codes, labels } = coded(schoolType);
    const test = raoScott(design, column("target"), codes, labels.length, everyone);
    const known = expected.target_x_stype;
    expectClose(test.statistic, known.F);
    expectClose(test.numeratorDf, known.ndf);
    expectClose(test.denominatorDf, known.ddf);
    expectClose(test.probability, known.p);
    expectClose(test.chiSquare, known.rao_scott_chisq);
    expectClose(test.probabilityFirstOrder, known.rao_scott_chisq_p);
  });
});
