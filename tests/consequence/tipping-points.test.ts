import { beforeAll, describe, expect, it } from "vitest";
import { answersOf } from "../../src/consequence/claims/answers.js";
import { claimsOf } from "../../src/consequence/claims/claims.js";
import { reestimate } from "../../src/consequence/reestimate.js";
import { runsOf } from "../../src/consequence/repairs/draw.js";
import type { World } from "../../src/consequence/scenario.js";
import { instruments, leastStep, prevalenceByError, tippingPoints } from "../../src/consequence/tipping-points.js";
import type { FieldRecord } from "../../src/example/record.js";
import type { Answer, Claim, TippingPoint } from "../../src/results/schema.js";
import { chanceAtOrAbove } from "../../src/stats/chance-above.js";
import { exampleWorld } from "./example-world.js";

const given = { seed: 7, size: 600, clusters: 24 } as const;
let world: World;
let answers: readonly Answer[];
let claims: readonly Claim[];
let points: readonly TippingPoint[];

beforeAll(async () => {
  world = await exampleWorld(given);
  answers = answersOf(world, runsOf(world));
  claims = claimsOf(answers, [], []);
  points = tippingPoints(world, answers, claims);
});

/** What the teams would have written with every instrument put right: read, described and derived from scratch. */
async function putRight(point: TippingPoint, error: number): Promise<number> {
  const sign = point.direction === "reads-high" ? -1 : 1;
  const by = (sign * error) / (point.instrument === "scale" ? 1000 : point.instrument === "board" ? 10 : 1);
  const { measure } = instruments[point.instrument];
  const change = (record: FieldRecord): FieldRecord => ({
    ...record,
    [measure]: Math.round((record[measure] + by) * 1e6) / 1e6,
  });
  const right = await exampleWorld({ ...given, change, only: [point.estimate] });
  return right.headlines[0]?.published.value ?? Number.NaN;
}

/** The chance on the side of the claim, with another value and the standard error that the estimate has on the logit scale. */
function chanceAt(point: TippingPoint, value: number): number {
  const answer = answers.find(({ estimate }) => estimate === point.estimate);
  if (answer?.standardError == null || answer.degreesOfFreedom === null) throw new Error(point.estimate);
  const spread = answer.standardError / (answer.value * (1 - answer.value));
  const share = { ...answer, estimate: value, standardError: spread * value * (1 - value) };
  const above = chanceAtOrAbove({ ...share, degreesOfFreedom: answer.degreesOfFreedom }, point.limit);
  return point.side === "above" ? above : 1 - above;
}

describe("tipping points", () => {
  it("are there for what can be said alone", () => {
    const said = claims.filter(({ state }) => state === "can-be-said");
    expect(points.length).toBeGreaterThan(3);
    for (const { estimate, limit, side } of points)
      expect(said.some((one) => one.estimate === estimate && one.limit === limit && one.side === side)).toBe(true);
    const open = claims.map((claim) => ({ ...claim, state: "open-sample" as const }));
    expect(tippingPoints(world, answers, open)).toEqual([]);
  });

  it.each(["scale", "board"] as const)(
    "%s: exactly that error undoes the claim, 2 %% less does not",
    async (instrument) => {
      const found = points.filter((point) => point.instrument === instrument && point.error !== null).slice(0, 4);
      expect(found.length).toBeGreaterThan(0);
      for (const point of found) {
        const error = point.error as number;
        const after = await putRight(point, error);
        expect(after).toBeCloseTo(point.valueAfter as number, 10);
        expect(chanceAt(point, after)).toBeLessThan(0.95);
        // Exact to one step: 1 g or 0.1 mm; 2 % less is a step less where the error is small.
        const less = Math.min(0.98 * error, error - 1 / instruments[instrument].stepsPerUnit);
        expect(chanceAt(point, await putRight(point, less))).toBeGreaterThanOrEqual(0.95);
      }
    },
  );

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
    for (const point of points) expect(point.caught).toBe(point.error === null ? null : point.error > point.tolerance);
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
});
