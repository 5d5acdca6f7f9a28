import { describe, expect, it } from "vitest";
import { influence, mostInfluential, mostShown, withoutEach } from "../../src/consequence/influence.js";
import { reestimate } from "../../src/consequence/reestimate.js";
import { runScenario, worldOf } from "../../src/consequence/run.js";
import { estimates } from "../../src/estimates/index.js";
import { makeChildren, makeSettings } from "../checks/make-children.js";
import { exampleWorld } from "./example-world.js";

describe("leaving out", () => {
  it("the clusters that pull most are those of trying every one", async () => {
    const world = await exampleWorld({ seed: 12, size: 400, clusters: 18 });
    for (const headline of world.headlines) {
      const tried = Array.from({ length: world.design.clusterCount }, (_, out) => {
        const only = Uint8Array.from(world.design.cluster, (cluster) => (cluster === out ? 0 : 1));
        return reestimate(world.children, world.design, headline.estimate, world.rule, only).value;
      });
      const fast = withoutEach(world, headline, world.design.cluster, world.design.clusterCount);
      tried.forEach((value, cluster) => {
        expect(fast[cluster]).toBeCloseTo(value, 12);
      });
      for (const [direction, extreme] of [
        ["lowest", Math.min(...tried)],
        ["highest", Math.max(...tried)],
      ] as const) {
        const scenario = influence(world).find(({ id }) => id === `leave-out-cluster/${direction}`);
        const outcome =
          scenario && runScenario(scenario, world).outcomes.find(({ estimate }) => estimate === headline.estimate.id);
        expect(outcome?.value).toBeCloseTo(extreme, 12);
      }
    }
  });

  it("skips parts that hold nobody", () => {
    expect(mostInfluential(Float64Array.of(Number.NaN, 0.3, 0.1, 0.2), "lowest")).toBe(2);
    expect(mostInfluential(Float64Array.of(Number.NaN, 0.3, 0.1, 0.2), "highest")).toBe(1);
    expect(mostInfluential(Float64Array.of(Number.NaN), "highest")).toBe(-1);
  });

  it("every team and day where there are few, only the extremes where there are many", async () => {
    const world = await exampleWorld({ seed: 12, size: 400, clusters: 18 });
    const ids = influence(world).map(({ id }) => id);
    expect(ids.filter((id) => id.startsWith("leave-out-team/"))).toHaveLength(6);
    expect(ids.filter((id) => id.startsWith("leave-out-day/"))).toHaveLength(12);
    const days = {
      ...world.children,
      interviewDay: Float64Array.from({ length: world.children.count }, (_, i) => 20_000 + (i % 40)),
    };
    const many = influence({ ...world, children: days }).map(({ id }) => id);
    expect(40).toBeGreaterThan(mostShown);
    expect(many.filter((id) => id.startsWith("leave-out-day/"))).toEqual([
      "leave-out-day/lowest",
      "leave-out-day/highest",
    ]);
  });

  it("no cluster, team or day where the survey has none, and a lone team is not left out", () => {
    const z = { "weight-for-height": (i: number) => -2.5 + (i % 40) / 10 };
    const plain = makeChildren({ count: 120, interviewDay: null, z });
    expect(influence(worldOf(plain, makeSettings(), estimates, []))).toEqual([]);
    const lone = makeChildren({
      count: 120,
      interviewDay: null,
      team: () => "T1",
      cluster: (i) => String(i % 2),
      z,
    });
    expect(influence(worldOf(lone, makeSettings(), estimates, []))).toEqual([]);
  });

  it("a stratum's last cluster leaves a finite estimate and interval", () => {
    const children = makeChildren({
      count: 120,
      interviewDay: null,
      stratum: (i) => (i < 100 ? "north" : "south"),
      cluster: (i) => (i < 100 ? String(i % 5) : "9"),
      z: { "weight-for-height": (i: number) => -3 + ((i * 7) % 45) / 10 },
    });
    const world = worldOf(children, makeSettings(), estimates, []);
    const headline = world.headlines[0];
    if (headline === undefined) throw new Error("No headline.");
    const only = Uint8Array.from({ length: 120 }, (_, i) => Number(i < 100));
    const left = reestimate(children, world.design, headline.estimate, world.rule, only);
    expect(left.n).toBe(100);
    expect(left.degreesOfFreedom).toBe(4);
    expect(Number.isFinite(left.value) && Number.isFinite(left.variance)).toBe(true);
    expect(left.low).toBeLessThan(left.value);
    expect(left.high).toBeGreaterThan(left.value);
  });
});
