import { describe, expect, it } from "vitest";
import { comparabilityOf } from "../../src/compare/comparability.js";
import { pooledOf } from "../../src/compare/pooled.js";
import type { SurveySummary } from "../../src/compare/summary.js";
import { expectClose, knownValues } from "../stats/close.js";
import { makeCell, makeEstimate, makeSummary } from "./make-summary.js";
import { makeSettings } from "./settings.js";

const pooled = (summaries: readonly SurveySummary[]) => pooledOf(comparabilityOf(summaries, makeSettings()));
const place = (key: string, value: number, error: number, given: Parameters<typeof makeSummary>[1] = {}) =>
  makeSummary(key, { estimates: [makeEstimate("wasting", makeCell(value, error))], ...given });

describe("heterogeneity against R's metafor", () => {
  // R 4.2.2 with metafor 3.8-1: see known-values/stats/README.md.
  const { yi, vi, q, q_probability, i2, reml, q_profile } = knownValues("meta.json").shares;
  const [found] = pooled(yi.map((value: number, i: number) => place(`p${i}`, value, Math.sqrt(vi[i]))));

  it("Q, I-squared and tau-squared of twelve surveys of one round", () => {
    expect(found?.surveys).toHaveLength(12);
    expectClose(found?.heterogeneity?.q ?? 0, q);
    expectClose(found?.heterogeneity?.probability ?? 0, q_probability, 1e-6);
    expectClose(found?.heterogeneity?.iSquared ?? 0, i2);
    expectClose(found?.heterogeneity?.tauSquared ?? 0, reml.tau2, 1e-6);
    expectClose(found?.heterogeneity?.tauSquaredInterval?.low ?? 0, q_profile[0], 1e-6);
    expectClose(found?.heterogeneity?.tauSquaredInterval?.high ?? 0, q_profile[1], 1e-6);
  });

  it("no combined estimate without population sizes", () => {
    expect(found?.combined).toBeNull();
    expect(found?.reason?.id).toBe("compare.pooled.reason.no-sizes");
  });
});

describe("the combined estimate against R's survey", () => {
  // R 4.2.2 with survey 4.1-1: three strata of the api data, surveyed alone and merged.
  const { merged, strata } = knownValues("meta-strata.json").target;
  const surveys = ["E", "H", "M"].map((name) => {
    const { estimate, se, df, population } = strata[name];
    return makeSummary(name, {
      populationSize: population,
      estimates: [makeEstimate("wasting", makeCell(estimate, se, { degreesOfFreedom: df }))],
    });
  });

  it("is that of the merged survey, with a logit interval around it", () => {
    const [found] = pooled(surveys);
    expectClose(found?.combined?.value ?? 0, merged.estimate);
    expectClose(found?.combined?.standardError ?? 0, merged.se);
    expect(found?.combined?.interval?.low).toBeLessThan(merged.estimate - 1.9 * merged.se);
    expect(found?.combined?.interval?.high).toBeLessThan(merged.estimate + 1.96 * merged.se);
    expect(found?.reason).toBeUndefined();
  });

  it("takes the uncertainty of a survey without cases from its exact interval, not as none", () => {
    const none = makeCell(0, 0, { interval: { low: 0, high: 0.02, level: 0.95 }, degreesOfFreedom: 29 });
    const [first] = surveys as [SurveySummary];
    const zero = makeSummary("zero", { populationSize: 100_000, estimates: [makeEstimate("wasting", none)] });
    const [found] = pooled([first, zero]);
    const cell = first.estimates.get("wasting")?.overall;
    const whole = (first.populationSize ?? 0) + 100_000;
    const own = ((first.populationSize ?? 0) / whole) * (cell?.standardError ?? 0);
    // 2.045: the 97.5th percentile of Student's t with 29 degrees of freedom, in any table.
    const added = (100_000 / whole) * (0.02 / 2.04523);
    expectClose(found?.combined?.standardError ?? 0, Math.sqrt(own ** 2 + added ** 2), 1e-5);
    const silent = makeSummary("silent", {
      populationSize: 1000,
      estimates: [makeEstimate("wasting", makeCell(0, 0, { interval: null }))],
    });
    expect(pooled([first, silent])[0]).toMatchObject({
      combined: null,
      reason: { id: "compare.pooled.reason.no-error" },
    });
  });

  it("is not given when the size of one population is not known, or a place stands twice", () => {
    const [first, ...others] = surveys as [SurveySummary, ...SurveySummary[]];
    expect(pooled([{ ...first, populationSize: null }, ...others])[0]?.reason?.id).toBe(
      "compare.pooled.reason.some-sizes",
    );
    expect(pooled([first, { ...first, key: "again" }])[0]?.reason?.id).toBe("compare.pooled.reason.place-twice");
  });
});

describe("rounds", () => {
  it("are pooled apart, earliest first; one survey alone is not pooled", () => {
    const of = (key: string, round: string, firstDay: string) => place(key, 0.1, 0.01, { round, firstDay });
    const found = pooled([
      of("a", "B", "2024-05-01"),
      of("b", "B", "2024-05-02"),
      of("c", "A", "2023-05-01"),
      of("d", "A", "2023-05-01"),
      of("e", "C", "2025-05-01"),
    ]);
    expect(found.map(({ round, surveys }) => [round, surveys])).toEqual([
      ["A", ["c", "d"]],
      ["B", ["a", "b"]],
    ]);
  });

  it("a survey that cannot be compared, or has no sampling error, does not enter", () => {
    const found = pooled([
      place("a", 0.1, 0.01),
      place("b", 0.12, 0.01),
      place("c", 0.3, 0.01, { definition: { ageFrom: 0 } }),
      place("d", 0, 0),
    ]);
    expect(found[0]?.surveys).toEqual(["a", "b", "d"]);
    expect(found[0]?.heterogeneity?.degreesOfFreedom).toBe(1);
  });
});
