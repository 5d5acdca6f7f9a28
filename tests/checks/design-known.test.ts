import { describe, expect, it } from "vitest";
import { designKnown } from "../../src/checks/design-known/index.js";
import { runCheck } from "../../src/checks/run.js";
import type { Children } from "../../src/derive/children.js";
import { type CheckResult, checkResultSchema } from "../../src/results/schema.js";
import type { SurveySettings } from "../../src/settings/settings.js";
import { randomStream } from "../../src/stats/random.js";
import { expectComplete } from "./check-support.js";
import { cleanSurvey } from "./clean-survey.js";
import { type ChildrenGiven, makeChildren, makeSettings } from "./make-children.js";

function run(children: Children, settings: Partial<SurveySettings> = {}): CheckResult {
  const result = checkResultSchema.parse(runCheck(designKnown, children, makeSettings(settings)).result);
  expectComplete(result);
  return result;
}

/** 600 children whose weight-for-height has nothing to do with where they live. */
function survey(given: Partial<ChildrenGiven>, count = 600, seed = 41): Children {
  const random = randomStream(seed);
  const z = Float64Array.from({ length: count }, () => -0.8 + random.normal());
  return makeChildren({ count, z: { "weight-for-height": z }, ...given });
}

const said = (result: CheckResult): string[] => result.meaning.map(({ id }) => id.split(".").slice(3).join("."));
const variant = (result: CheckResult): string | undefined => result.finding.id.split(".").at(-1);
const quantity = (result: CheckResult, id: string) => result.quantities.find((one) => one.id === id);

describe("design-known", () => {
  it("finds nothing in 30 clusters of 20 and gives their degrees of freedom", () => {
    const result = run(survey({ cluster: (i) => `C${i % 30}` }));
    expect([result.reading, variant(result)]).toEqual(["expected", "shown"]);
    expect(quantity(result, "design-degrees-of-freedom")?.value).toBe(29);
    expect(quantity(result, "children-per-cluster")?.value).toBe(20);
    // Student's t on 29 degrees of freedom, 2.045 (any table), against 1.960: 4.3 % wider.
    const width = result.meaning.find(({ id }) => id.endsWith(".width"));
    expect(width?.values.t).toBeCloseTo(2.045, 3);
    expect(width?.values.wider).toBeCloseTo(2.0452 / 1.96 - 1, 3);
  });

  it("says that no clusters are named, more seriously where the survey says it drew some", () => {
    expect(run(survey({})).reading).toBe("explain");
    expect(run(survey({}), { sampling: { drawn: "clusters" } }).reading).toBe("doubt");
    expect(variant(run(survey({})))).toBe("no-clusters");
  });

  it.each(["children", "everyone"] as const)("takes the survey's word that it drew %s", (drawn) => {
    const result = run(survey({}), { sampling: { drawn } });
    expect([result.reading, variant(result)]).toEqual(["expected", `stated-${drawn}`]);
    expect(result.actions).toEqual([]);
  });

  it("doubts clusters of one child, or nearly", () => {
    expect(run(survey({ cluster: (i) => `C${i}` })).reading).toBe("doubt");
    // Households of one or two children of these ages.
    const households = run(survey({ cluster: (i) => `H${Math.floor(i / 1.5)}` }));
    expect([households.reading, variant(households)]).toEqual(["doubt", "cluster-per-child"]);
    expect(variant(run(survey({ cluster: (i) => `C${i}` }), { sampling: { drawn: "children" } }))).toBe("shown");
  });

  it.each([
    [10, "expected"],
    [9, "explain"],
    [5, "explain"],
    [4, "doubt"],
    [1, "doubt"],
  ])("%i clusters: %s", (clusters, reading) => {
    expect(run(survey({ cluster: (i) => `C${i % clusters}` })).reading).toBe(reading);
  });

  it("tells strata with one cluster, more seriously where no stratum has two", () => {
    const one = run(survey({ cluster: (i) => `C${i % 20}`, stratum: (i) => (i % 20 === 0 ? "hills" : "plain") }));
    expect([one.reading, variant(one)]).toEqual(["explain", "single-cluster-strata"]);
    const all = run(survey({ cluster: (i) => `C${i % 20}`, stratum: (i) => `S${i % 20}` }));
    expect(all.reading).toBe("doubt");
    expect(said(all)).not.toContain("width");
  });

  describe("strata without weights", () => {
    const strata: Partial<ChildrenGiven> = {
      cluster: (i) => `C${i % 30}`,
      stratum: (i) => (i % 30 < 15 ? "north" : "south"),
    };
    const with_ = (settings: Partial<SurveySettings>, more: Partial<ChildrenGiven> = {}) =>
      run(survey({ ...strata, ...more }), settings);

    it("whose chances cannot be known: said, but no finding", () => {
      const result = with_({});
      expect(result.reading).toBe("expected");
      expect(said(result)).toContain("weights-unknown");
      expect(result.actions.map(({ id }) => id)).toEqual(["checks.design-known.action.chances"]);
    });

    it.each([
      [{ north: 100, south: 140 }, "expected"],
      [{ north: 100, south: 160 }, "explain"],
      [{ north: 100, south: 300 }, "doubt"],
      [{ north: 300, south: 100 }, "doubt"],
    ])("with clusters of the population %o: %s", (clustersInPopulation, reading) => {
      expect(with_({ clustersInPopulation }).reading).toBe(reading);
    });

    it("takes the size of clusters into account where it is given", () => {
      const clustersInPopulation = { north: 100, south: 300 };
      const alike = { clustersInPopulation, childrenPerCluster: { north: 120, south: 40 } };
      expect(with_(alike).reading).toBe("expected");
    });

    it("finds nothing where weights, or equal chances, are given", () => {
      const clustersInPopulation = { north: 100, south: 300 };
      const weights = { samplingWeight: (i: number) => (i % 30 < 15 ? 1 : 3) };
      expect(with_({ clustersInPopulation }, weights).reading).toBe("expected");
      expect(with_({ clustersInPopulation, sampling: { chances: "equal" } }).reading).toBe("expected");
      expect(with_({ sampling: { chances: "unequal" } }).reading).toBe("doubt");
      // Weights that are all the same make up for nothing.
      expect(with_({ clustersInPopulation }, { samplingWeight: () => 2 }).reading).toBe("doubt");
    });
  });

  it("doubts cases dealt out evenly over clusters, and clusters that are all or nothing", () => {
    const evenly = survey({
      cluster: (i) => `C${i % 30}`,
      z: { "weight-for-height": (i) => (i % 300 < 30 ? -2.5 : 0) },
    });
    const even = run(evenly);
    expect([even.reading, even.finding.values.side ?? "low"]).toEqual(["doubt", "low"]);
    expect(quantity(even, "main-design-effect-wasting")?.value).toBeLessThan(0.01);
    const clumped = run(
      survey({ cluster: (i) => `C${i % 30}`, z: { "weight-for-height": (i) => (i % 30 < 4 ? -2.5 : 0) } }),
    );
    // All 20 children of a cluster alike: the design effect is the size of a cluster times 30/29, about 20.7 (Kish: 1 + 19 rho).
    expect(quantity(clumped, "main-design-effect-wasting")?.value).toBeCloseTo((20 * 30) / 29, 6);
    expect(clumped.reading).toBe("doubt");
    const few = run(survey({ cluster: (i) => `C${i % 30}`, z: { "weight-for-height": (i) => (i < 9 ? -2.5 : 0) } }));
    expect([few.reading, quantity(few, "main-design-effect-wasting")]).toEqual(["expected", undefined]);
  });

  it("names several things at once", () => {
    const result = run(survey({ cluster: (i) => `C${i % 6}`, stratum: (i) => (i % 6 === 0 ? "a" : "b") }), {
      sampling: { chances: "unequal" },
    });
    expect([result.reading, variant(result)]).toEqual(["doubt", "several"]);
    expect(result.finding.values.gaps).toHaveLength(3);
  });

  it("says how the correction for a finite population was made", () => {
    const children = survey({ cluster: (i) => `C${i % 30}` });
    const methods = (settings: Partial<SurveySettings>) => run(children, settings).method.map(({ id }) => id);
    const open = { clustersInPopulation: { all: 60 } };
    expect(methods({}).some((id) => id.includes("finite"))).toBe(false);
    expect(methods(open)).toContain("checks.design-known.method.finite-open");
    expect(methods({ ...open, childrenPerCluster: { all: 80 } })).toContain("checks.design-known.method.finite-known");
  });

  it("cannot tell of nobody or of fewer than 25 children", () => {
    for (const count of [0, 1, 2, 24]) {
      expect(run(survey({ cluster: (i) => `C${i % 2}` }, count)).reading).toBe("unknown");
    }
    expect(run(survey({ cluster: (i) => `C${i % 2}` }, 25)).reading).toBe("doubt");
  });
});

describe("surveys without faults", () => {
  it("of 20 to 60 clusters are not doubted, and hardly ever asked about", () => {
    // 300 surveys, seeds 9001 to 9300; clusters of 12 to 30 children, intracluster correlation 0 to 0.06.
    const counts = { expected: 0, explain: 0, doubt: 0, unknown: 0 };
    for (let k = 0; k < 300; k++) {
      const children = cleanSurvey({
        seed: 9001 + k,
        clusters: 20 + (k % 5) * 10,
        perCluster: 12 + (k % 4) * 6,
        intraclusterCorrelation: (k % 7) / 100,
      });
      counts[runCheck(designKnown, children, makeSettings()).result.reading]++;
    }
    expect(counts).toMatchObject({ doubt: 0, unknown: 0 });
    expect(counts.explain / 300).toBeLessThan(0.02);
  });
});
