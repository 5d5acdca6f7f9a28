import { describe, expect, it } from "vitest";
import { ages, heapedAgeDraw, withinMonthDraw } from "../../src/consequence/ages.js";
import type { Drawn } from "../../src/consequence/repairs/repair.js";
import { rounding } from "../../src/consequence/repairs/rounding.js";
import { daysPerMonth } from "../../src/derive/age.js";
import { randomStream } from "../../src/stats/random.js";
import { exampleWorld, found } from "./example-world.js";

const heaped = {
  seed: 21,
  size: 900,
  clusters: 36,
  faults: { ageHeaping: { district: "Yundeth", share: 0.8 } },
} as const;

describe("rounded ages", () => {
  it("are put back only where the check names the group, in the year or half year, and inside the survey's ages", async () => {
    const checks = [found("age-heaping", [{ by: "stratum", label: "Yundeth" }])];
    const world = await exampleWorld({ ...heaped, checks });
    const drawn = heapedAgeDraw(world)?.(randomStream(2)).ageDays;
    if (drawn === undefined) throw new Error("Nothing was drawn.");
    const { children } = world;
    const place = children.stratum?.publicLabels.indexOf("Yundeth");
    const documented = children.ageKnownHow?.labels.indexOf("documented");
    let moved = 0;
    drawn.forEach((days, i) => {
      const before = children.ageDays[i] as number;
      if (Number.isNaN(before) || days === before) return;
      moved += 1;
      expect(children.stratum?.codes[i]).toBe(place);
      expect(children.ageKnownHow?.codes[i]).not.toBe(documented);
      const month = Math.floor(children.ageMonths[i] as number);
      expect(month % 6).toBe(0);
      const by = days / daysPerMonth - (month + 0.5);
      expect(by).toBeGreaterThan(-6 - 1e-9);
      expect(by).toBeLessThan(5 + 1e-9);
      expect(days).toBeGreaterThanOrEqual(0);
      expect(days).toBeLessThan(60 * daysPerMonth);
    });
    expect(moved).toBeGreaterThan(50);
  });

  it("a survey from 6 months draws no age below 6 months", async () => {
    const checks = [found("age-heaping", [{ by: "age-known-how", label: "recalled" }])];
    const world = await exampleWorld({
      ...heaped,
      checks,
      settings: { ageRange: { from: 6, to: 59 } },
    });
    const draw = heapedAgeDraw(world);
    const { children } = world;
    for (let seed = 1; seed <= 5; seed++) {
      draw?.(randomStream(seed)).ageDays?.forEach((days, i) => {
        if (days !== children.ageDays[i] && !Number.isNaN(days)) expect(days).toBeGreaterThanOrEqual(6 * daysPerMonth);
      });
    }
    expect(draw).not.toBeNull();
  });

  it("whole months are spread over their month and keep it; birth dates stay", async () => {
    const world = await exampleWorld(heaped);
    const { children } = world;
    const drawn = withinMonthDraw(world)?.(randomStream(2)).ageDays;
    if (drawn === undefined) throw new Error("Nothing was drawn.");
    let moved = 0;
    drawn.forEach((days, i) => {
      const before = children.ageDays[i] as number;
      if (Number.isNaN(before)) return;
      expect(Math.floor(days / daysPerMonth)).toBe(Math.floor(before / daysPerMonth));
      if (children.ageSource[i] === 1) expect(days).toBe(before);
      else moved += Number(days !== before);
    });
    expect(moved).toBeGreaterThan(50);
    const exact = await exampleWorld({
      ...heaped,
      settings: { ageInMonths: "exact" },
    });
    expect(withinMonthDraw(exact)).toBeNull();
  });

  it("both at once keep both limits", async () => {
    const world = await exampleWorld({
      ...heaped,
      checks: [found("age-heaping")],
    });
    expect(ages(world).map(({ id }) => id)).toEqual(["ages/heaped", "ages/within-month"]);
    const drawn = { columns: {}, counted: null, absent: null } as Drawn;
    for (const repair of rounding(world, 1)) repair.apply(drawn, 0, randomStream(4));
    expect(drawn.columns.ageDays).toBeDefined();
    drawn.columns.ageDays?.forEach((days) => {
      if (Number.isNaN(days)) return;
      expect(days).toBeGreaterThanOrEqual(0);
      expect(days).toBeLessThan(60 * daysPerMonth);
    });
  });
});
