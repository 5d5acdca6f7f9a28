import { describe, expect, it } from "vitest";
import { shiftedPrevalence } from "../../src/consequence/instrument-error.js";
import { reestimate } from "../../src/consequence/reestimate.js";
import { worldOf } from "../../src/consequence/run.js";
import type { World } from "../../src/consequence/scenario.js";
import type { Children } from "../../src/derive/children.js";
import { rescore } from "../../src/derive/rescore.js";
import { estimates } from "../../src/estimates/index.js";
import { exampleChildren } from "./example-world.js";

const { children, settings } = await exampleChildren({ seed: 12, size: 400, clusters: 24 });

type DefaultRule = typeof settings.exclusions.default;

function worldWith(rule: DefaultRule, of: Children = children): World {
  return worldOf(of, { ...settings, exclusions: { ...settings.exclusions, default: rule } }, estimates, []);
}

/** Everything derived and estimated again. */
function inFull(
  world: World,
  id: string,
  measure: "weight" | "height" | "arm",
  team: number | null,
  by: number,
): number {
  const { children: own, settings: set, design, rule } = world;
  const values = (own[measure]?.values ?? new Float64Array(0)).map((value, i) =>
    team === null || own.team?.codes[i] === team ? value + by : value,
  );
  const moved = rescore(own, { [measure]: values }, set.exclusions.widthAroundMean);
  const headline = world.headlines.find(({ estimate }) => estimate.id === id);
  if (headline === undefined) throw new Error(`There is no estimate '${id}'.`);
  return reestimate(moved, design, headline.estimate, rule).value;
}

function quickly(
  world: World,
  id: string,
  measure: "weight" | "height" | "arm",
  team: number | null,
  by: number,
): number {
  const headline = world.headlines.find(({ estimate }) => estimate.id === id);
  if (headline === undefined) throw new Error(`There is no estimate '${id}'.`);
  return shiftedPrevalence(world, headline, measure, team)(by);
}

describe("a prevalence with one measure moved", () => {
  it.each([
    ["wasting", "weight", 0.4],
    ["wasting", "height", -2],
    ["underweight", "weight", -0.7],
    ["stunting", "height", 3],
    ["overweight", "weight", 1.5],
    ["acute-malnutrition-by-arm-circumference", "arm", -6],
  ] as const)("%s, %s: the very figure of deriving and estimating everything again", (id, measure, by) => {
    for (const rule of ["fixed", "around-mean"] as const) {
      const world = worldWith(rule);
      for (const team of [null, 0, 3]) {
        const found = quickly(world, id, measure, team, by);
        expect(found).toBe(inFull(world, id, measure, team, by));
        expect(found).not.toBe(quickly(world, id, measure, team, 0));
      }
    }
  });

  it("holds for a team of which nobody can be judged but by oedema", () => {
    const inTeam = (child: number): boolean => children.team?.codes[child] === 1;
    const oedema = Uint8Array.from(children.sex, (_, child) => (inTeam(child) && child % 2 === 0 ? 1 : 0));
    const weight = (children.weight?.values ?? new Float64Array(0)).map((value, child) =>
      inTeam(child) && oedema[child] === 0 ? Number.NaN : value,
    );
    const poor = rescore({ ...children, oedema }, { weight }, settings.exclusions.widthAroundMean);
    const world = worldWith("fixed", poor);
    expect(quickly(world, "underweight", "weight", 1, 0.3)).toBe(inFull(world, "underweight", "weight", 1, 0.3));
    expect(quickly(world, "underweight", "weight", 1, 0.3)).toBe(
      world.headlines.find(({ estimate }) => estimate.id === "underweight")?.published.value,
    );
  });
});
