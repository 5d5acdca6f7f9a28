import { beforeAll, describe, expect, it } from "vitest";
import { reestimate } from "../../src/consequence/reestimate.js";
import type { World } from "../../src/consequence/scenario.js";
import { instruments, leastStep, prevalenceByError, tippingPoints } from "../../src/consequence/tipping-points.js";
import { classOf } from "../../src/estimates/classes.js";
import type { FieldRecord } from "../../src/example/record.js";
import type { TippingPoint } from "../../src/results/schema.js";
import { exampleWorld } from "./example-world.js";

const given = { seed: 7, size: 600, clusters: 24 } as const;
let world: World;
let points: readonly TippingPoint[];

beforeAll(async () => {
  world = await exampleWorld(given);
  points = tippingPoints(world);
});

/** What the teams would have written with the instrument put right: read, described and derived from scratch. */
async function putRight(point: TippingPoint, error: number): Promise<number> {
  const sign = point.direction === "reads-high" ? -1 : 1;
  const by = (sign * error) / (point.instrument === "scale" ? 1000 : point.instrument === "board" ? 10 : 1);
  const { measure } = instruments[point.instrument];
  const change = (record: FieldRecord): FieldRecord =>
    point.team === null || record.team === point.team
      ? { ...record, [measure]: Math.round((record[measure] + by) * 1e6) / 1e6 }
      : record;
  const right = await exampleWorld({
    ...given,
    change,
    only: [point.estimate],
  });
  return right.headlines[0]?.published.value ?? Number.NaN;
}

/** The class, or for an estimate without classes whether it lies inside its own interval. */
function resultOf(estimate: string, value: number): number | boolean {
  const headline = world.headlines.find((one) => one.estimate.id === estimate);
  if (headline === undefined) throw new Error(`There is no estimate '${estimate}'.`);
  const { scheme } = headline.estimate;
  if (scheme !== undefined) return classOf(scheme, value);
  return value >= (headline.published.low ?? 0) && value <= (headline.published.high ?? 1);
}

describe("tipping points", () => {
  for (const instrument of ["scale", "board", "tape"] as const) {
    for (const whose of ["all teams", "one team"] as const) {
      if (instrument === "board" && whose === "one team") continue;
      it(`${instrument}, ${whose}: exactly that error changes the result, 2 % less does not`, async () => {
        const found = points.filter(
          (point) => point.instrument === instrument && (point.team === null) === (whose === "all teams"),
        );
        const moving = found.filter((point) => point.error !== null).slice(0, 4);
        expect(moving.length).toBeGreaterThan(0);
        for (const point of moving) {
          const error = point.error as number;
          const before = resultOf(
            point.estimate,
            world.headlines.find(({ estimate }) => estimate.id === point.estimate)?.published.value ?? Number.NaN,
          );
          const after = await putRight(point, error);
          expect(resultOf(point.estimate, after)).not.toBe(before);
          expect(after).toBeCloseTo(point.valueAfter as number, 10);
          // Exact to one step: 1 g or 0.1 mm; 2 % less is a step less where the error is small.
          const less = Math.min(0.98 * error, error - 1 / instruments[instrument].stepsPerUnit);
          expect(resultOf(point.estimate, await putRight(point, less))).toBe(before);
        }
      });
    }
  }

  it("agree with estimating again in full, and give the published figure at no error", () => {
    for (const headline of world.headlines.filter(({ estimate }) =>
      ["wasting", "stunting", "underweight"].includes(estimate.id),
    )) {
      const instrument = headline.estimate.id === "stunting" ? "board" : "scale";
      expect(prevalenceByError(world, headline, instrument, null)(0)).toBe(headline.published.value);
      expect(prevalenceByError(world, headline, instrument, 2)(0)).toBe(headline.published.value);
      const again = reestimate(world.children, world.design, headline.estimate, world.rule);
      expect(again.value).toBe(headline.published.value);
    }
  });

  it("say whether a daily check would have shown the error", () => {
    for (const point of points) {
      expect(point.caught).toBe(point.error === null ? null : point.error > point.tolerance);
      expect(point.to === null).toBe(point.error === null || point.criterion === "interval");
      expect(point.from === null).toBe(point.criterion === "interval");
    }
  });
});

describe("search for the least step", () => {
  it("finds it to the step", () => {
    for (const least of [1, 2, 9, 10, 11, 137, 999, 1000])
      expect(leastStep(1000, (steps) => steps >= least)).toBe(least);
    expect(leastStep(1000, () => false)).toBeNull();
  });

  it("finds a change that turns back further out, as limits of plausible values can make it", () => {
    expect(leastStep(1000, (steps) => steps >= 180 && steps <= 450)).toBe(180);
    expect(leastStep(400, (steps) => steps >= 25 && steps <= 90)).toBe(25);
  });

  it("looks at every step where limits move, so that no smaller one is passed by", () => {
    const twice = (steps: number) => steps === 120 || steps >= 160;
    expect(leastStep(1000, twice)).toBe(160);
    expect(leastStep(1000, twice, true)).toBe(120);
    expect(leastStep(1000, () => false, true)).toBeNull();
    expect(leastStep(20, (steps) => steps >= 1, true)).toBe(1);
  });

  it("with limits around the mean of 200 children: none smaller changes the result, looked at one by one", async () => {
    let missedByHalving = 0;
    for (const seed of [22, 26]) {
      const around = await exampleWorld({
        seed,
        size: 200,
        clusters: 20,
        change: (record, i) =>
          i % 12 === 0 ? { ...record, weight: record.weight * (i % 24 === 0 ? 0.8 : 1.25) } : record,
        settings: { exclusions: { default: "around-mean", widthAroundMean: 3 } },
        only: ["wasting", "stunting", "underweight"],
      });
      const all = tippingPoints(around).filter(({ team, error }) => team === null && error !== null);
      expect(all.length).toBeGreaterThan(0);
      for (const { estimate, instrument, direction, error } of all) {
        const headline = around.headlines.find((one) => one.estimate.id === estimate);
        if (headline?.estimate.scheme === undefined)
          throw new Error(`There is no estimate '${estimate}' with classes.`);
        const { scheme } = headline.estimate;
        const prevalence = prevalenceByError(around, headline, instrument, null);
        const own = classOf(scheme, headline.published.value);
        const moves = (steps: number) =>
          classOf(scheme, prevalence(direction === "reads-high" ? steps : -steps)) !== own;
        const steps = (error as number) * instruments[instrument].stepsPerUnit;
        expect(moves(steps)).toBe(true);
        for (let less = 1; less < steps; less++) if (moves(less)) throw new Error(`${less} is smaller than ${steps}.`);
        if (leastStep(instruments[instrument].searchTo * instruments[instrument].stepsPerUnit, moves) !== steps)
          missedByHalving++;
      }
    }
    expect(missedByHalving).toBeGreaterThan(0);
  });
});
