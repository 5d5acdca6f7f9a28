import { describe, expect, it } from "vitest";
import { excessOn } from "../../src/consequence/repairs/birth-dates.js";
import { runsOf } from "../../src/consequence/repairs/draw.js";
import { repairsOfChecks } from "../../src/consequence/repairs/of-checks.js";
import type { World } from "../../src/consequence/scenario.js";
import type { FieldRecord } from "../../src/example/record.js";
import { checkIds } from "../../src/results/check-ids.js";
import { randomStream } from "../../src/stats/random.js";
import { checkedWorld } from "./checked-world.js";

/** Mean over the draws of an estimate, with all repairs together. */
function putRight(world: World, id: string): number {
  const h = world.headlines.findIndex(({ estimate }) => estimate.id === id);
  const { joint } = runsOf(world);
  return joint.reduce((sum, draw) => sum + (draw[h]?.estimate ?? Number.NaN), 0) / joint.length;
}

const published = (world: World, id: string): number =>
  world.headlines.find(({ estimate }) => estimate.id === id)?.published.value ?? Number.NaN;

const ids = (world: World): string[] => runsOf(world).repairs.map(({ id }) => id);

const base = { seed: 20_241_007, size: 900, clusters: 36 } as const;

/** The survey with a change of its records beside the same one without: what is left of the harm once it is put right. */
async function left(id: string, change: (record: FieldRecord, at: number) => FieldRecord) {
  const clean = await checkedWorld(base);
  const faulty = await checkedWorld({ ...base, change });
  const truth = putRight(clean, id);
  const harm = published(faulty, id) - published(clean, id);
  return { faulty, harm, left: putRight(faulty, id) - truth };
}

describe("findings put right", () => {
  it("a scale 500 g off is found by name and most of its harm is gone", async () => {
    const {
      faulty,
      harm,
      left: rest,
    } = await left("wasting", (record) => (record.team === "T2" ? { ...record, weight: record.weight + 0.5 } : record));
    expect(ids(faulty)).toContain("instrument/T2");
    const own = runsOf(faulty).repairs.find(({ id }) => id === "instrument/T2");
    expect(own?.found?.values).toMatchObject({ team: "T2", unit: "gram", direction: "up" });
    expect(own?.found?.values.amount).toBeGreaterThan(300);
    expect(own?.found?.values.amount).toBeLessThan(700);
    expect(Math.abs(harm)).toBeGreaterThan(0.005);
    expect(Math.abs(rest)).toBeLessThan(0.5 * Math.abs(harm));
  });

  it("a board 2 cm short", async () => {
    const {
      faulty,
      harm,
      left: rest,
    } = await left("stunting", (record) => (record.team === "T4" ? { ...record, height: record.height - 2 } : record));
    expect(ids(faulty)).toContain("instrument/T4");
    expect(harm).toBeGreaterThan(0.02);
    expect(Math.abs(rest)).toBeLessThan(0.5 * harm);
  });

  it("births put to 1 January", async () => {
    const random = randomStream(4);
    const {
      faulty,
      harm,
      left: rest,
    } = await left("stunting", (record) => {
      if (Number.isNaN(record.birthDay) || random.uniform() > 0.25) return record;
      const year = new Date(record.birthDay * 86_400_000).getUTCFullYear();
      return { ...record, birthDay: Date.UTC(year, 0, 1) / 86_400_000 };
    });
    expect(ids(faulty)).toContain("ages/birth-dates");
    expect(harm).toBeGreaterThan(0.02);
    expect(Math.abs(rest)).toBeLessThan(0.5 * harm);
  });

  it("thin children whom nobody weighed are counted by their arms", async () => {
    const random = randomStream(5);
    const { harm, left: rest } = await left("wasting", (record) =>
      record.arm < 135 && random.uniform() < 0.8 ? { ...record, weight: Number.NaN } : record,
    );
    expect(harm).toBeLessThan(-0.015);
    expect(Math.abs(rest)).toBeLessThan(0.5 * Math.abs(harm));
  });

  it("are not drawn where nothing was found, but for what nobody wrote down", async () => {
    const clean = await checkedWorld({ seed: 77, size: 700, clusters: 35 });
    for (const id of ids(clean)) expect(["ages/within-month", "absent/imputed"]).toContain(id);
    for (const { estimate, published: own } of clean.headlines) {
      const shift = putRight(clean, estimate.id) - own.value;
      expect(Math.abs(shift), estimate.id).toBeLessThan(0.5 * Math.sqrt(own.variance));
    }
  });

  it("of few children are kept out of the draws and not told of", async () => {
    const world = await checkedWorld({ ...base, faults: { duplicateRows: { count: 6 } } });
    const runs = runsOf(world);
    expect(runs.keptBack.map(({ id }) => id)).toContain("records/repeats");
    expect(runs.repairs.map(({ id }) => id)).not.toContain("records/repeats");
  });

  it("are the same draws alone and in company, and again", async () => {
    const world = await checkedWorld({ ...base, faults: { heightRounding: { team: "T4", share: 0.7 } } });
    const again = { ...world };
    expect(runsOf(again).joint).toEqual(runsOf(world).joint);
    expect(runsOf(world).alone.length).toBe(runsOf(world).repairs.length);
  });
});

describe("every check", () => {
  it("has a repair or the reason why there is none", () => {
    expect(Object.keys(repairsOfChecks).sort()).toEqual([...checkIds].sort());
  });
});

describe("births on one day", () => {
  it("are a pile only where they are far beyond the calendar", () => {
    expect(excessOn(40, 900, 12 / 365.25)).toBe(0);
    expect(excessOn(0, 900, 12 / 365.25)).toBe(0);
    expect(excessOn(150, 900, 12 / 365.25)).toBeCloseTo(1 - (900 * 12) / 365.25 / 150, 10);
  });
});
