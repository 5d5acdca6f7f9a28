import type { Children } from "../derive/children.js";
import { designOf } from "../derive/design.js";
import type { SurveySettings } from "../describe/settings.js";
import { classOf } from "../estimates/classes.js";
import type { Estimate, PrevalenceEstimate } from "../estimates/estimate.js";
import type { CheckResult, Consequence, ScenarioResult } from "../results/schema.js";
import { randomStream, seedFor } from "../stats/random.js";
import { scenarioFiles } from "./index.js";
import { present } from "./present.js";
import { reestimate } from "./reestimate.js";
import type { Headline, Reestimate, Scenario, World } from "./scenario.js";
import { tippingPoints } from "./tipping-points.js";

/** The prevalences that every scenario re-estimates. */
export const headlineIds: readonly string[] = [
  "wasting",
  "severe-wasting",
  "acute-malnutrition-by-weight-for-height",
  "acute-malnutrition-by-arm-circumference",
  "stunting",
  "underweight",
  "overweight",
];

function className({ scheme }: PrevalenceEstimate, value: number): string | null {
  return scheme === undefined ? null : (scheme.classes[classOf(scheme, value)]?.id ?? null);
}

/** Everything the scenarios look at, made once. */
export function worldOf(
  children: Children,
  settings: SurveySettings,
  estimates: readonly Estimate[],
  checks: readonly CheckResult[],
): World {
  const design = designOf(children, settings);
  const rule = settings.exclusions.default;
  const headlines = estimates.flatMap((estimate): Headline[] => {
    if (estimate.kind !== "proportion" || !headlineIds.includes(estimate.id)) return [];
    const published = reestimate(children, design, estimate, rule);
    return Number.isNaN(published.value) ? [] : [{ estimate, published, class: className(estimate, published.value) }];
  });
  return { children, settings, design, rule, headlines, checks: new Map(checks.map((check) => [check.id, check])) };
}

function outcomesOf(world: World, found: readonly Reestimate[]): ScenarioResult["outcomes"] {
  return found.flatMap((one) => {
    const headline = world.headlines.find(({ estimate }) => estimate.id === one.estimate);
    if (headline === undefined || Number.isNaN(one.value)) return [];
    const own = className(headline.estimate, one.value);
    return [
      {
        estimate: one.estimate,
        value: one.value,
        low: one.low,
        high: one.high,
        shift: one.value - headline.published.value,
        class: own,
        moves: own !== headline.class,
      },
    ];
  });
}

/** Runs one scenario on its own random stream. */
export function runScenario(scenario: Scenario, world: World): ScenarioResult {
  const found = scenario.run(world, randomStream(seedFor(world.settings.seed, scenario.id)));
  const { id, group, label, kind, checks } = scenario;
  const base = { id, group, label, kind, checks: [...checks] };
  const noted = scenario.note === undefined ? base : { ...base, note: scenario.note };
  if ("notPossible" in found) return { ...noted, reason: found.notPossible, outcomes: [] };
  return { ...noted, outcomes: outcomesOf(world, found) };
}

/** In how many counted scenarios each classed estimate keeps its class. Sensitivity lines are not counted. */
function verdictsOf(world: World, scenarios: readonly ScenarioResult[]): Consequence["verdicts"] {
  return world.headlines.flatMap((headline) => {
    const { scheme, id } = headline.estimate;
    if (scheme === undefined || headline.class === null) return [];
    const counted = scenarios
      .filter((scenario) => scenario.kind !== "sensitivity")
      .flatMap((scenario) =>
        scenario.outcomes.filter((one) => one.estimate === id).map((one) => ({ id: scenario.id, ...one })),
      );
    const movers = counted.filter((one) => one.moves).sort((a, b) => Math.abs(b.shift) - Math.abs(a.shift));
    return [
      {
        estimate: id,
        scheme: scheme.id,
        class: headline.class,
        total: counted.length,
        stands: counted.length - movers.length,
        movers: movers.map((one) => one.id),
      },
    ];
  });
}

/** How far each finding could move the prevalences; null where no prevalence could be estimated at all. */
export function runConsequence(
  children: Children,
  settings: SurveySettings,
  estimates: readonly Estimate[],
  checks: readonly CheckResult[],
): Consequence | null {
  const world = worldOf(children, settings, estimates, checks);
  if (world.headlines.length === 0) return null;
  const scenarios = scenarioFiles.flatMap((file) => file(world)).map((scenario) => runScenario(scenario, world));
  return present(world, scenarios, tippingPoints(world), verdictsOf(world, scenarios));
}
