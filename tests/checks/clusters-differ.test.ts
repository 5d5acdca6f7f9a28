import { describe, expect, it } from "vitest";
import { clustersDiffer } from "../../src/checks/clusters-differ/index.js";
import { expectComplete, itHolds, resultOf } from "./check-support.js";
import { cleanSurvey } from "./clean-survey.js";
import { makeChildren } from "./make-children.js";

itHolds(clustersDiffer);

/** 36 clusters of 25; how many of each cluster's children are wasted is given, everything else is alike in all. */
function survey(cases: (cluster: number) => number) {
  return makeChildren({
    count: 900,
    z: { "weight-for-height": (row) => (row % 25 < cases(Math.floor(row / 25)) ? -2.5 : Math.sin(row * 12.9898)) },
    cluster: (row) => `Village ${Math.floor(row / 25)}`,
  });
}

const quantity = (result: ReturnType<typeof resultOf>, id: string) => result.quantities.find((one) => one.id === id);

describe("clusters-differ", () => {
  it("the trade's indices of ten counts", () => {
    // Counts 0,1,2,2,3,0,5,1,2,4: variance-to-mean ratio 1.3333, Green's index 0.01754. Computed by hand.
    const counts = [0, 1, 2, 2, 3, 0, 5, 1, 2, 4];
    const children = makeChildren({
      count: 250,
      z: { "weight-for-height": (row) => (row % 25 < (counts[Math.floor(row / 25)] as number) ? -2.5 : Math.sin(row)) },
      cluster: (row) => `C${Math.floor(row / 25)}`,
    });
    const result = resultOf(clustersDiffer, children);
    expect(quantity(result, "variance-to-mean-wasting")?.value).toBeCloseTo(4 / 3, 10);
    expect(quantity(result, "green-index-wasting")?.value).toBeCloseTo(0.017544, 6);
    // X2 = 12 on 9 for equal sizes and small shares, here divided by (1 - p), p = 20/250.
    expect(quantity(result, "case-dispersion-wasting")?.value).toBeCloseTo(12 / 9 / (1 - 0.08), 10);
    expectComplete(result);
  });

  it("the same number of cases in every cluster: too even", () => {
    const result = resultOf(
      clustersDiffer,
      survey(() => 3),
    );
    expect(result.reading).toBe("doubt");
    expect(result.finding.id).toBe("checks.clusters-differ.finding.even");
    expect(quantity(result, "case-dispersion-wasting")?.value).toBe(0);
    expectComplete(result);
  });

  it("all cases in a few clusters: clumped", () => {
    const result = resultOf(
      clustersDiffer,
      survey((cluster) => (cluster % 9 === 0 ? 15 : 1)),
    );
    expect(["clumped", "both"].some((kind) => result.finding.id.endsWith(kind))).toBe(true);
    expect(["explain", "doubt"]).toContain(result.reading);
    expectComplete(result);
  });

  it("a design effect of 1.5 raises no question, and its interval holds 1.5 most of the time", () => {
    let held = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const { interval } =
        quantity(
          resultOf(clustersDiffer, cleanSurvey({ seed, intraclusterCorrelation: 0.021 })),
          "mean-design-effect-weight-for-height",
        ) ?? {};
      if (interval && interval.low <= 1.5 && interval.high >= 1.5) held++;
    }
    expect(held).toBeGreaterThanOrEqual(52);
  });

  it("never names a cluster", () => {
    const result = resultOf(
      clustersDiffer,
      survey((cluster) => (cluster % 9 === 0 ? 15 : 1)),
    );
    expect(JSON.stringify(result)).not.toContain("Village");
  });
});
