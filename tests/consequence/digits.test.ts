import { describe, expect, it } from "vitest";
import { digitDraw, digits, roundedMeasures } from "../../src/consequence/digits.js";
import type { World } from "../../src/consequence/scenario.js";
import { randomStream } from "../../src/stats/random.js";
import { exampleWorld, found } from "./example-world.js";

const measureOf = (name: string) => {
  const one = roundedMeasures.find(({ measure }) => measure === name);
  if (one === undefined) throw new Error(name);
  return one;
};

/** Offsets of one draw, in the measure's unit. */
function moves(
  world: World,
  name: "weight" | "height" | "arm",
): {
  readonly offset: number;
  readonly value: number;
  readonly team: number;
}[] {
  const draw = digitDraw(world, measureOf(name));
  const drawn = draw?.(randomStream(3))[name];
  if (drawn === undefined) throw new Error("Nothing was drawn.");
  return [...(world.children[name]?.values ?? [])].map((value, i) => ({
    value,
    offset: (drawn[i] ?? Number.NaN) - value,
    team: world.children.team?.codes[i] ?? -1,
  }));
}

describe("rounded measurements", () => {
  it("are left alone where no check found anything", async () => {
    const world = await exampleWorld({ seed: 4, size: 300, clusters: 12 });
    expect(digits(world)).toEqual([]);
    const fine = { ...found("height-digits"), reading: "expected" as const };
    expect(
      digits(
        await exampleWorld({
          seed: 4,
          size: 300,
          clusters: 12,
          checks: [fine],
        }),
      ),
    ).toEqual([]);
  });

  it("only the team that the check names is touched, and only round figures", async () => {
    const world = await exampleWorld({
      seed: 4,
      size: 600,
      clusters: 24,
      faults: { heightRounding: { team: "T4", share: 0.8 } },
      checks: [found("height-digits", [{ by: "team", label: "T4" }])],
    });
    const code = world.children.team?.publicLabels.indexOf("T4");
    const moved = moves(world, "height").filter(({ offset }) => Math.abs(offset) > 1e-9);
    expect(moved.length).toBeGreaterThan(20);
    for (const { value, offset, team } of moved) {
      expect(team).toBe(code);
      const tenth = Math.round(value * 10) % 10;
      expect([0, 5]).toContain(tenth);
      // A whole centimetre goes half a centimetre at most, a half one 2 mm.
      expect(Math.abs(offset)).toBeLessThan((tenth === 0 ? 0.5 : 0.2) + 1e-9);
    }
  });

  it("a column written in whole units was rounded throughout", async () => {
    const change = (record: { readonly weight: number }) => ({
      ...record,
      weight: Math.round(record.weight),
    });
    const world = await exampleWorld({
      seed: 4,
      size: 600,
      clusters: 24,
      change: change as never,
      checks: [found("weight-digits")],
    });
    const own = moves(world, "weight").filter(({ offset }) => !Number.isNaN(offset));
    // A tenth of the readings stays at its whole kilogram by chance.
    expect(own.filter(({ offset }) => Math.abs(offset) > 1e-9).length / own.length).toBeGreaterThan(0.8);
    expect(Math.max(...own.map(({ offset }) => Math.abs(offset)))).toBeLessThan(0.5 + 1e-9);
  });

  it("a column in half units was rounded to halves", async () => {
    const change = (record: { readonly weight: number }) => ({
      ...record,
      weight: Math.round(2 * record.weight) / 2,
    });
    const world = await exampleWorld({
      seed: 4,
      size: 600,
      clusters: 24,
      change: change as never,
      checks: [found("weight-digits")],
    });
    const own = moves(world, "weight").filter(({ offset }) => !Number.isNaN(offset));
    expect(own.filter(({ offset }) => Math.abs(offset) > 1e-9).length / own.length).toBeGreaterThan(0.6);
    expect(own.filter(({ offset }) => Math.abs(offset) > 0.2 + 1e-9).length / own.length).toBeLessThan(0.1);
  });

  it("a column written finer than the usual step: only exact whole and half units are taken for rounded", async () => {
    const change = (record: { readonly weight: number }, i: number) => ({
      ...record,
      weight: i % 4 === 0 ? Math.round(record.weight) : Math.round(100 * record.weight + (i % 10) - 4.5) / 100,
    });
    const world = await exampleWorld({
      seed: 4,
      size: 600,
      clusters: 24,
      change: change as never,
      checks: [found("weight-digits")],
    });
    expect(world.children.weight?.step).toBeCloseTo(0.01, 9);
    const moved = moves(world, "weight").filter(({ offset }) => Math.abs(offset) > 1e-9);
    expect(moved.length).toBeGreaterThan(60);
    for (const { value } of moved) expect(Math.abs(2 * value - Math.round(2 * value))).toBeLessThan(1e-9);
  });

  it("a grid coarser than the decimals is no rounding to whole and half units: 50 g, 0.5 mm", async () => {
    const world = await exampleWorld({
      seed: 4,
      size: 600,
      clusters: 24,
      change: ((record: { readonly weight: number; readonly height: number }, i: number) => ({
        ...record,
        weight: Math.round(20 * record.weight + (i % 20)) / 20,
        height: Math.round(20 * record.height + (i % 20)) / 20,
      })) as never,
      checks: [found("weight-digits"), found("height-digits")],
    });
    expect(world.children.weight?.step).toBeCloseTo(0.01, 9);
    // Taken as one of a hundred places, whole and half units would hold five times their part.
    for (const name of ["weight", "height"] as const) {
      const moved =
        digitDraw(world, measureOf(name)) === null
          ? []
          : moves(world, name).filter(({ offset }) => Math.abs(offset) > 1e-9);
      expect(moved.length).toBeLessThan(20);
    }
  });
});
