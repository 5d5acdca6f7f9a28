import { describe, expect, it } from "vitest";
import { householdsReached } from "../../src/checks/households-reached/index.js";
import { planOf, quantity, resultWith } from "./coverage-plans.js";

const run = (plan: Parameters<typeof resultWith>[1]) => resultWith(householdsReached, plan);

describe("households-reached", () => {
  it("gives the share reached with an interval on the effective number", () => {
    // Ten clusters of ten: half with 10 and half with 8 reached. p = 0.9; sum((r - 9)^2) = 10; variance of the share
    // (10 / 9) * 10 / 100^2 = 1 / 900; of independent households 0.9 * 0.1 / 100 = 0.0009: design effect 1.2345679.
    const result = run(planOf(10, (i) => ({ reachedHouseholds: i % 2 === 0 ? 10 : 8 })));
    expect(quantity(result, "households-reached")?.value).toBeCloseTo(0.9, 12);
    expect(quantity(result, "households-design-effect")?.value).toBeCloseTo(1 / 0.81, 10);
    // Wider than the exact interval for 90 of 100: 0.8238 to 0.9510 (Clopper-Pearson, from memory of tables).
    const interval = quantity(result, "households-reached")?.interval;
    expect(interval?.low).toBeLessThan(0.8238);
    expect(interval?.low).toBeGreaterThan(0.8);
    expect(interval?.high).toBeGreaterThan(0.951);
  });

  it("takes the exact interval where clusters are alike", () => {
    // Clopper-Pearson for 90 of 100: 0.8238 to 0.9510 (from memory of tables).
    const result = run(planOf(10, () => ({ reachedHouseholds: 9 })));
    expect(quantity(result, "households-design-effect")?.value).toBe(1);
    expect(quantity(result, "households-reached")?.interval?.low).toBeCloseTo(0.8238, 4);
    expect(quantity(result, "households-reached")?.interval?.high).toBeCloseTo(0.951, 4);
    expect(result.reading).toBe("explain");
  });

  it.each([
    [10, "expected"],
    [9.2, "expected"],
    [9, "explain"],
    [8, "explain"],
    [7.5, "doubt"],
    [4, "doubt"],
  ])("with %d of 10 households in every cluster reads as %s", (reachedOfTen, reading) => {
    const plan = planOf(20, () => ({ plannedHouseholds: 50, reachedHouseholds: reachedOfTen * 5 }));
    expect(run(plan).reading).toBe(reading);
  });

  it("leaves clusters not reached to the other check, and does not let one cluster make up for another", () => {
    const result = run(
      planOf(11, (i) => (i === 0 ? { rows: 0, reachedHouseholds: 0 } : { reachedHouseholds: i === 1 ? 14 : 10 })),
    );
    expect(quantity(result, "households-reached")?.value).toBe(1);
    expect(quantity(result, "households-planned")?.value).toBe(100);
    expect(quantity(result, "households-in-lost-clusters")?.value).toBe(10);
    expect(quantity(result, "households-beyond-plan")?.value).toBe(4);
    expect(result.reading).toBe("expected");
  });

  it("asks about many more households than planned", () => {
    const result = run(planOf(10, () => ({ reachedHouseholds: 11 })));
    expect(result.finding.id).toBe("checks.households-reached.finding.beyond");
    expect(result.reading).toBe("explain");
  });

  it("finds the stratum, and names clusters with fewer than half", () => {
    const plan = planOf(40, (i) => ({ stratum: i < 6 ? "N" : "S", reachedHouseholds: i < 6 ? (i < 3 ? 4 : 9) : 10 }));
    const result = run(plan);
    expect(result.finding).toMatchObject({ id: "checks.households-reached.finding.strata", values: { strata: ["N"] } });
    expect(quantity(result, "clusters-half-reached")?.value).toBe(3);
    expect(result.meaning.find(({ id }) => id.endsWith(".poor"))?.values.labels).toEqual(["101", "102", "103"]);
  });

  it("takes rows of children as proof only where households with children were planned", () => {
    const counted = { householdsFrom: "data" } as const;
    const reached = () => ({ reachedHouseholds: 7 });
    expect(run(planOf(10, reached, counted)).reason).toMatchObject({
      id: "checks.households-reached.children-only",
      values: { reached: 70, planned: 100 },
    });
    expect(run(planOf(10, reached, { ...counted, plannedHaveChildren: true })).reading).toBe("doubt");
  });

  it("cannot tell without numbers", () => {
    expect(run(null).reason?.id).toBe("checks.households-reached.no-plan");
    expect(run(planOf(9, () => ({ plannedHouseholds: Number.NaN }))).reason?.id).toBe(
      "checks.households-reached.no-plan",
    );
    expect(run(planOf(9, undefined, { householdsFrom: "nothing" })).reason?.id).toBe(
      "checks.households-reached.not-counted",
    );
    expect(run(planOf(9, () => ({ reachedHouseholds: Number.NaN }))).reason?.id).toBe(
      "checks.households-reached.none-known",
    );
  });
});
