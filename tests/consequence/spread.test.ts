import { describe, expect, it } from "vitest";
import { runScenario, worldOf } from "../../src/consequence/run.js";
import type { World } from "../../src/consequence/scenario.js";
import { quadraticExtrapolation, spread } from "../../src/consequence/spread.js";
import { estimates } from "../../src/estimates/index.js";
import { normalCumulative, normalQuantile } from "../../src/stats/normal.js";
import { randomStream } from "../../src/stats/random.js";
import { makeChildren, makeSettings } from "../checks/make-children.js";

function worldWith(z: ArrayLike<number>, oedema: ((i: number) => number) | null = null): World {
  const children = makeChildren({
    count: z.length,
    z: { "weight-for-height": z },
    oedema,
  });
  return worldOf(children, makeSettings(), estimates, []);
}

function lineOf(world: World, name: string, estimate: string) {
  const scenario = spread(world).find(({ id }) => id === `spread/${name}`);
  if (scenario === undefined) throw new Error(`There is no scenario '${name}'.`);
  return runScenario(scenario, world).outcomes.find((outcome) => outcome.estimate === estimate);
}

/** Values that follow a normal distribution exactly, at 10,000 evenly spaced probabilities. */
const exactNormal = (mean: number, sd: number): Float64Array =>
  Float64Array.from({ length: 10_000 }, (_, i) => mean + sd * normalQuantile((i + 0.5) / 10_000));

describe("quadratic extrapolation", () => {
  const points = [0, 0.5, 1, 1.5, 2];

  it("is exact on parabolas", () => {
    const weights = quadraticExtrapolation(points, -1);
    for (const [a, b, c] of [
      [1, 0, 0],
      [0.1, 0.03, 0],
      [0.2, -0.05, 0.01],
    ] as const) {
      const read = points.reduce((sum, x, j) => sum + (weights[j] ?? 0) * (a + b * x + c * x * x), 0);
      expect(read).toBeCloseTo(a - b + c, 10);
    }
    // Without noise in f the weights of a least-squares parabola through these points, worked by hand: f(0) counts most.
    expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12);
  });
});

describe("spread beyond 1 taken as error", () => {
  // Mean -1: with a standard deviation of 1.2 20.23 % lie below -2 and 4.78 % below -3; with 1.0 15.87 % and 2.28 %.
  // Computed from the normal distribution; the inflation is what Grellety and Golden, PLoS ONE 2016;11:e0168585, describe.
  const world = worldWith(exactNormal(-1, 1.2));
  const published = (id: string): number =>
    world.headlines.find(({ estimate }) => estimate.id === id)?.published.value ?? Number.NaN;

  it("starts from the inflated prevalence", () => {
    expect(normalCumulative(-1 / 1.2)).toBeCloseTo(0.2023, 4);
    expect(normalCumulative(-1)).toBeCloseTo(0.1587, 4);
    // Scores are compared after rounding to two decimals: the cut-off of unrounded ones is -2.005.
    expect(published("wasting")).toBeCloseTo(normalCumulative(-1.005 / 1.2), 3);
  });

  it("the normal model brings it back to that of a spread of 1", () => {
    expect(lineOf(world, "normal", "wasting")?.value).toBeCloseTo(normalCumulative(-1.005), 3);
    expect(lineOf(world, "normal", "severe-wasting")?.value).toBeCloseTo(normalCumulative(-2.005), 3);
  });

  it("the extrapolation goes most of the way, and no further", () => {
    // By hand: with f(x) = Phi(-1.005 / sqrt(1.44 + 0.44 x)) the parabola through x = 0, 0.5, 1, 1.5, 2 read at -1.
    const f = (x: number): number => normalCumulative(-1.005 / Math.sqrt(1.44 + 0.44 * x));
    const weights = quadraticExtrapolation([0, 0.5, 1, 1.5, 2], -1);
    const wanted = [0, 0.5, 1, 1.5, 2].reduce((sum, x, j) => sum + (weights[j] ?? 0) * f(x), 0);
    const line = lineOf(world, "extrapolated", "wasting");
    expect(line?.value).toBeCloseTo(wanted, 3);
    expect(line?.value).toBeGreaterThan(normalCumulative(-1.005));
    expect((line?.value ?? 1) - normalCumulative(-1.005)).toBeLessThan(0.25 * (0.2023 - 0.1587));
  });

  it("says why there is no line where the spread is 1 or less", () => {
    const narrow = worldWith(exactNormal(-1, 0.95));
    for (const scenario of spread(narrow)) {
      const result = runScenario(scenario, narrow);
      expect(result.outcomes).toEqual([]);
      expect(result.reason?.id).toBe("scenario.spread.no-excess");
    }
  });

  it("counts children with oedema as cases beside the model", () => {
    // Every tenth child has oedema and no score: acute malnutrition is a tenth, and nine tenths of the model's wasting.
    const z = exactNormal(-1, 1.2).map((value, i) => (i % 10 === 0 ? Number.NaN : value));
    const swollen = worldWith(z, (i) => Number(i % 10 === 0));
    const wasting = lineOf(swollen, "normal", "wasting")?.value ?? Number.NaN;
    const acute = lineOf(swollen, "normal", "acute-malnutrition-by-weight-for-height")?.value;
    // The fixed limits set a few scores aside, so that the parts are not quite a tenth and nine tenths.
    expect(acute).toBeCloseTo(0.1 + 0.9 * wasting, 3);
  });

  it("has standard errors that match what repeated samples show", () => {
    const random = randomStream(99);
    const repeats = 150;
    const seen: Record<string, { values: number[]; errors: number[] }> = {};
    for (let r = 0; r < repeats; r++) {
      const own = worldWith(Float64Array.from({ length: 400 }, () => -1 + 1.3 * random.normal()));
      for (const scenario of spread(own)) {
        const found = scenario.run(own, random);
        if ("notPossible" in found) throw new Error("A spread of 1.3 is above 1.");
        const line = found.find(({ estimate }) => estimate === "wasting");
        const list = seen[scenario.id] ?? { values: [], errors: [] };
        seen[scenario.id] = list;
        list.values.push(line?.value ?? Number.NaN);
        list.errors.push(Math.sqrt(line?.variance ?? Number.NaN));
      }
    }
    for (const { values, errors } of Object.values(seen)) {
      const mean = values.reduce((sum, value) => sum + value, 0) / repeats;
      const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (repeats - 1));
      const claimed = errors.reduce((sum, value) => sum + value, 0) / repeats;
      // The empirical figure itself is good to 1 / sqrt(2 * 149), 6 %.
      expect(claimed / sd).toBeGreaterThan(0.83);
      expect(claimed / sd).toBeLessThan(1.2);
    }
    expect(Object.keys(seen)).toEqual(["spread/normal", "spread/extrapolated"]);
  });
});
