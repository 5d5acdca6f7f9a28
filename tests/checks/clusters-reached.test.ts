import { describe, expect, it } from "vitest";
import { clustersReached } from "../../src/checks/clusters-reached/index.js";
import { planOf, quantity, resultWith } from "./coverage-plans.js";

const run = (plan: Parameters<typeof resultWith>[1]) => resultWith(clustersReached, plan);
/** The first `count` clusters have no row. */
const lost = (count: number) => (i: number) => (i < count ? { rows: 0 } : {});

describe("clusters-reached", () => {
  it("gives the share reached with the exact binomial interval", () => {
    const result = run(planOf(30, lost(1)));
    expect(quantity(result, "clusters-reached")?.value).toBeCloseTo(29 / 30, 12);
    // Exact 95 % interval for 29 of 30 is 1 less that for 1 of 30: 0.0008 to 0.1722 (Newcombe 1998, table I, from
    // memory, for 1 of 29: 0.0009 to 0.1776). The limits solve P(X >= 1 | p) = 0.025, so p = 1 - 0.975^(1/30).
    expect(quantity(result, "clusters-reached")?.interval?.high).toBeCloseTo(0.975 ** (1 / 30), 10);
    expect(quantity(result, "clusters-reached")?.interval?.low).toBeCloseTo(1 - 0.1722, 3);
    expect(result.reading).toBe("expected");
  });

  it("takes the limits of Newcombe's 0 of 20", () => {
    // Newcombe 1998, table I (from memory): exact interval for 0 of 20 is 0 to 0.1684; mirrored for 20 of 20.
    const interval = quantity(run(planOf(20)), "clusters-reached")?.interval;
    expect(interval?.low).toBeCloseTo(1 - 0.1684, 4);
    expect(interval?.high).toBe(1);
  });

  it.each([
    [30, 2, "expected"],
    [30, 3, "explain"],
    [30, 7, "explain"],
    [30, 8, "doubt"],
    [4, 1, "doubt"],
  ])("of %i clusters without %i reads %s", (planned, missing, reading) => {
    expect(run(planOf(planned, lost(missing))).reading).toBe(reading);
  });

  it("does not let a replacement stand in for a cluster given up", () => {
    const plan = planOf(32, (i) =>
      i < 3 ? { rows: 0 } : i >= 30 ? { replacement: true, rows: i === 30 ? 20 : 0 } : {},
    );
    const result = run(plan);
    expect(result.reading).toBe("explain");
    expect(quantity(result, "clusters-planned")?.value).toBe(30);
    expect(quantity(result, "clusters-not-reached")?.value).toBe(3);
    expect(quantity(result, "clusters-replaced")?.value).toBe(1);
  });

  it("asks about clusters that are not in the plan", () => {
    const result = run(planOf(30, undefined, { unplanned: [{ label: "999", rows: 12 }] }));
    expect(result.finding.id).toBe("checks.clusters-reached.finding.unplanned");
    expect(result.reading).toBe("explain");
    expect(quantity(result, "clusters-unplanned")?.value).toBe(1);
  });

  it("finds a stratum in which clusters are missing together", () => {
    const plan = planOf(60, (i) => ({
      stratum: i < 12 ? "N" : "S",
      rows: i < 4 ? 0 : 20,
      householdsInFrame: i < 4 ? 200 : 100,
    }));
    const result = run(plan);
    expect(result.finding).toMatchObject({
      id: "checks.clusters-reached.finding.strata",
      values: { strata: ["N"] },
    });
    // 4 x 200 of 4 x 200 + 56 x 100 households.
    expect(quantity(result, "frame-not-reached")?.value).toBeCloseTo(800 / 6400, 12);
    expect(result.tables[0]?.rows.map((row) => row.slice(1, 3))).toEqual([
      [60, 56],
      [12, 8],
      [48, 48],
    ]);
    expect(result.charts.length).toBe(1);
  });

  it("cannot tell without a plan, or where all are replacements", () => {
    expect(run(null).reason?.id).toBe("checks.clusters-reached.no-plan");
    expect(run(planOf(9, undefined, { clustersKnown: false })).reason?.id).toBe("checks.clusters-reached.no-plan");
    expect(run(planOf(9, () => ({ replacement: true }))).reason?.id).toBe("checks.clusters-reached.all-reserve");
    expect(run(null).reading).toBe("unknown");
  });
});
