import { describe, expect, it } from "vitest";
import { influential, largestByChance } from "../../../src/consequence/claims/influential.js";
import { runScenarios } from "../../../src/consequence/run.js";
import { expectClose } from "../../stats/close.js";
import { checkedWorld } from "../checked-world.js";

describe("parts that move an estimate further than by chance", () => {
  it("are held against the largest of so many", () => {
    // scipy.stats.t.ppf(1 - (1 - 0.95 ** (1 / T)) / 2, df), SciPy 1.17.1.
    expectClose(largestByChance(6, 30), 2.8160263988036673);
    expectClose(largestByChance(60, 57), 3.520603734419956);
    expectClose(largestByChance(1, 30), 2.0422724563012378);
  });

  it("are few in surveys without a fault: at most one in ten looks at teams and days", async () => {
    let named = 0;
    let looks = 0;
    for (let seed = 301; seed <= 315; seed++) {
      const world = await checkedWorld({ seed, size: 600, clusters: 30 });
      const found = influential(world, runScenarios(world)).filter(({ by }) => by !== "cluster");
      named += new Set(found.map(({ estimate, by }) => `${estimate} ${by}`)).size;
      looks += 2 * world.headlines.length;
    }
    expect(named / looks).toBeLessThan(0.1);
  }, 120_000);

  it("name the team whose scale is far off, with the shift that leaving it out makes", async () => {
    const world = await checkedWorld({
      seed: 9,
      change: (record) => (record.team === "T3" ? { ...record, weight: record.weight - 1.2 } : record),
    });
    const scenarios = runScenarios(world);
    const found = influential(world, scenarios).filter(({ by, estimate }) => by === "team" && estimate === "wasting");
    expect(found.map(({ scenario }) => scenario)).toContain("leave-out-team/T3");
    const own = found.find(({ scenario }) => scenario === "leave-out-team/T3");
    const told = scenarios
      .find(({ id }) => id === "leave-out-team/T3")
      ?.outcomes.find(({ estimate }) => estimate === "wasting");
    expect(own?.shift).toBeCloseTo(told?.shift ?? Number.NaN, 12);
    expect(own?.shift).toBeLessThan(0);
    // Where the scenario may not be told, the part is not named either.
    expect(influential(world, [])).toEqual([]);
  });
});
