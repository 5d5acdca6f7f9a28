import { beforeAll, describe, expect, it } from "vitest";
import { answersOf } from "../../../src/consequence/claims/answers.js";
import {
  type LogitDraws,
  logitDraws,
  riskWhenKnown,
  riskWithClusters,
} from "../../../src/consequence/claims/settling.js";
import { drawOnce, runsOf } from "../../../src/consequence/repairs/draw.js";
import type { World } from "../../../src/consequence/scenario.js";
import { normalCumulative, normalQuantile } from "../../../src/stats/normal.js";
import { randomStream } from "../../../src/stats/random.js";
import { checkedWorld } from "../checked-world.js";

const logit = (p: number): number => Math.log(p / (1 - p));
const risk = (chance: number): number => Math.min(chance, 1 - chance);
const mean = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;

describe("what an act is worth beforehand", () => {
  const limit = 0;
  const count = 60;
  // One repair moves the estimate by amounts of a normal distribution, another by those of a second one.
  const spread = (sd: number, step: number) =>
    Array.from({ length: count }, (_, k) => sd * normalQuantile((((k * step) % count) + 0.5) / count));
  const first = spread(0.15, 7).map((one) => one - 0.1);
  const second = spread(0.1, 13);
  const draws: LogitDraws = {
    mean: first.map((one, k) => 0.12 + one + (second[k] as number)),
    error: first.map(() => 0.12),
    moves: [first, second],
  };

  it("agrees with nested simulation of normal amounts within a point", () => {
    // The amount becomes known; the rest stays as it is. Outer and inner draws are new ones.
    const random = randomStream(5);
    const outer = Array.from({ length: 4000 }, () => -0.1 + 0.15 * random.normal());
    const nested = outer.map((known) => {
      const inner = Array.from({ length: 40 }, (_, k) => 0.1 * normalQuantile((k + 0.5) / 40));
      return risk(mean(inner.map((other) => normalCumulative((0.12 + known + other - limit) / 0.12))));
    });
    expect(Math.abs(riskWhenKnown(draws, limit, [0]) - mean(nested))).toBeLessThan(0.01);
  });

  it("of clusters agrees with drawing them, within a point", () => {
    const random = randomStream(6);
    const [clusters, more] = [30, 15];
    const left = Math.sqrt(clusters / (clusters + more));
    const brute = Array.from({ length: 4000 }, () => {
      // What the added clusters bring the estimate to, then the chance that is left with all of them.
      const moved = Math.sqrt(1 - left ** 2) * 0.12 * random.normal();
      return risk(mean(draws.mean.map((one) => normalCumulative((one + moved - limit) / (0.12 * left)))));
    });
    expect(Math.abs(riskWithClusters(draws, limit, clusters, more) - mean(brute))).toBeLessThan(0.01);
  });

  it("is nothing where nothing hangs on it, and less with a coarse reading than with an exact one", () => {
    const now = risk(mean(draws.mean.map((one) => normalCumulative((one - limit) / 0.12))));
    expect(riskWhenKnown(draws, limit, [])).toBeCloseTo(now, 12);
    const exact = riskWhenKnown(draws, limit, [0], { amounts: first, error: 0.001 });
    const coarse = riskWhenKnown(draws, limit, [0], { amounts: first, error: 0.2 });
    const blind = riskWhenKnown(draws, limit, [0], { amounts: first, error: 50 });
    expect(Math.abs(exact - riskWhenKnown(draws, limit, [0]))).toBeLessThan(0.005);
    expect(exact).toBeLessThan(coarse);
    expect(coarse).toBeLessThan(blind + 0.002);
    expect(Math.abs(blind - now)).toBeLessThan(0.01);
  });
});

describe("in a survey with a scale that drifts and rounded heights", () => {
  let world: World;
  beforeAll(async () => {
    world = await checkedWorld({
      seed: 20_241_007,
      faults: { scaleDrift: { team: "T2", kilogramsPerDay: 0.08 }, heightRounding: { team: "T4", share: 0.7 } },
    });
  });

  it("adding up on the logit scale is within a point of draws in which one repair is held fixed", () => {
    const runs = runsOf(world);
    const answers = answersOf(world, runs);
    const h = world.headlines.findIndex(({ estimate }) => estimate.id === "wasting");
    const at = runs.repairs.findIndex(({ instrument }) => instrument !== undefined);
    expect(at).toBeGreaterThanOrEqual(0);
    const draws = logitDraws(answers[h] as (typeof answers)[number], runs, h) as LogitDraws;
    const held = runs.repairs[at] as (typeof runs.repairs)[number];
    for (const limit of [0.1, 0.12].map(logit)) {
      const count = 20;
      const nested = Array.from({ length: count }, (_, outer) => {
        // Outer draw: the scale's state; inner draws: everything else anew, with that state.
        const fixed = {
          ...held,
          apply: (drawn: Parameters<typeof held.apply>[0], _: number, random: Parameters<typeof held.apply>[2]) =>
            held.apply(drawn, outer, random),
        };
        const repairs = runs.repairs.map((repair, r) => (r === at ? fixed : repair));
        const inner = Array.from({ length: count }, (_, k) => drawOnce(world, repairs, k)[h]);
        return risk(
          mean(
            inner.map((one) => {
              const { estimate: p, standardError } = one ?? { estimate: Number.NaN, standardError: Number.NaN };
              return normalCumulative((logit(p) - limit) / (standardError / (p * (1 - p))));
            }),
          ),
        );
      });
      const first = <Value>(values: readonly Value[]) => values.slice(0, count);
      const few = { mean: first(draws.mean), error: first(draws.error), moves: draws.moves.map((own) => first(own)) };
      expect(Math.abs(riskWhenKnown(few, limit, [at]) - mean(nested))).toBeLessThan(0.01);
    }
  }, 120_000);
});
