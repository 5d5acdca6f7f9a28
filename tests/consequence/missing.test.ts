import { describe, expect, it } from "vitest";
import { missing } from "../../src/consequence/missing.js";
import { runScenario, worldOf } from "../../src/consequence/run.js";
import { estimates } from "../../src/estimates/index.js";
import { randomStream } from "../../src/stats/random.js";
import { makeChildren, makeSettings } from "../checks/make-children.js";

/** 8 measured children, 2 of them wasted, and 2 without a measure. */
const z = [-2.5, -2.2, -1, -0.5, 0, 0.2, 0.4, 1, Number.NaN, Number.NaN];
const world = worldOf(
  makeChildren({ count: 10, arm: null, z: { "weight-for-height": z } }),
  makeSettings(),
  estimates.filter(({ id }) => id === "wasting"),
  [],
);

function outcomeOf(name: string) {
  const scenario = missing(world).find(({ id }) => id === `missing/${name}`);
  if (scenario === undefined) throw new Error(`There is no '${name}'.`);
  expect(scenario.kind).toBe("bound");
  return runScenario(scenario, world).outcomes[0];
}

describe("children without a measure", () => {
  it("bounds worked by hand", () => {
    expect(world.headlines[0]?.published.value).toBe(2 / 8);
    expect(outcomeOf("none-a-case")?.value).toBeCloseTo(2 / 10, 12);
    expect(outcomeOf("all-cases")?.value).toBeCloseTo(4 / 10, 12);
    // Twice as often: each of the two counts 2 x 2/8 = 1/2.
    expect(outcomeOf("twice-as-often")?.value).toBeCloseTo(3 / 10, 12);
  });

  it("twice as often carries the sampling error of the measured children", () => {
    // value = p (W + 2 M) / (W + M): with 8 and 2 children its standard error is 1.2 times that of p (and what M adds).
    const scenario = missing(world).find(({ id }) => id === "missing/twice-as-often");
    const found = scenario?.run(world, randomStream(1));
    const variance = Array.isArray(found) ? found[0]?.variance : Number.NaN;
    const measured = world.headlines[0]?.published.variance ?? Number.NaN;
    expect(Math.sqrt(variance / measured)).toBeGreaterThan(1.1);
    expect(Math.sqrt(variance / measured)).toBeLessThan(1.4);
  });

  it("nothing to say where everybody was measured", () => {
    const whole = worldOf(
      makeChildren({
        count: 8,
        arm: null,
        z: { "weight-for-height": z.slice(0, 8) },
      }),
      makeSettings(),
      estimates.filter(({ id }) => id === "wasting"),
      [],
    );
    expect(missing(whole)).toEqual([]);
  });
});
