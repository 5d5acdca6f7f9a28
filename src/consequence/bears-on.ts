import type { ScenarioResult } from "../results/schema.js";
import type { World } from "./scenario.js";

type Outcome = ScenarioResult["outcomes"][number];

/** False where a scenario leaves an estimate exactly as it is published: rounded heights say nothing about arm circumference. */
export function bearsOn(world: World, outcome: Outcome): boolean {
  const published = world.headlines.find(({ estimate }) => estimate.id === outcome.estimate)?.published;
  if (published === undefined) return false;
  const differs = (a: number | null, b: number | null): boolean =>
    a === null || b === null ? a !== b : Math.abs(a - b) > 1e-12;
  return (
    differs(outcome.value, published.value) ||
    differs(outcome.low, published.low) ||
    differs(outcome.high, published.high)
  );
}
