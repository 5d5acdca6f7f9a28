import type { ExclusionRule } from "../derive/children.js";
import { rescore } from "../derive/rescore.js";
import { message } from "../results/message.js";
import { reestimate } from "./reestimate.js";
import type { Scenario, ScenarioFile, World } from "./scenario.js";

interface Variant {
  readonly name: "none" | "fixed" | "around-mean-3" | "around-mean-4";
  readonly rule: ExclusionRule;
  readonly width: number | null;
}

// Widths 3 and 4 around the survey's mean are both in use (Bilukha and Kianian 2023).
const variants: readonly Variant[] = [
  { name: "none", rule: "none", width: null },
  { name: "fixed", rule: "fixed", width: null },
  { name: "around-mean-3", rule: "around-mean", width: 3 },
  { name: "around-mean-4", rule: "around-mean", width: 4 },
];

function isPublished(variant: Variant, world: World): boolean {
  if (variant.rule !== world.rule) return false;
  return variant.width === null || variant.width === world.settings.exclusions.widthAroundMean;
}

function scenarioFor(variant: Variant): Scenario {
  return {
    id: `exclusions/${variant.name}`,
    group: "exclusions",
    label: message(`scenario.exclusions.${variant.name}`),
    kind: "estimate",
    checks: ["implausible-values", "spread"],
    run: (world) => {
      const width = variant.width ?? world.settings.exclusions.widthAroundMean;
      const children = variant.width === null ? world.children : rescore(world.children, {}, width);
      return world.headlines.map(({ estimate }) => reestimate(children, world.design, estimate, variant.rule));
    },
  };
}

/** The same data under the other rules for setting implausible values aside. */
export const exclusions: ScenarioFile = (world) =>
  variants.filter((variant) => !isPublished(variant, world)).map(scenarioFor);
