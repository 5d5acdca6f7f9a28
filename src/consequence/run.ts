import type { Children } from "../derive/children.js";
import { designOf } from "../derive/design.js";
import { bookOf, expendable } from "../disclosure/book.js";
import { classOf } from "../estimates/classes.js";
import type { Estimate, PrevalenceEstimate } from "../estimates/estimate.js";
import type { GroupId } from "../results/group.js";
import { mainEstimateIds } from "../results/main-estimates.js";
import { message } from "../results/message.js";
import type { Answer, CheckResult, Consequence, RepairResult, ScenarioResult } from "../results/schema.js";
import type { SurveySettings } from "../settings/settings.js";
import { randomStream, seedFor } from "../stats/random.js";
import { answersOf, repairResults } from "./claims/answers.js";
import { type ListedFile, scenarioFiles } from "./index.js";
import { present } from "./present.js";
import { reestimate } from "./reestimate.js";
import { type RepairRuns, runsOf } from "./repairs/draw.js";
import type { Headline, Reestimate, Scenario, World } from "./scenario.js";

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
    if (estimate.kind !== "proportion" || !(mainEstimateIds as readonly string[]).includes(estimate.id)) return [];
    const published = reestimate(children, design, estimate, rule);
    return Number.isNaN(published.value) ? [] : [{ estimate, published, class: className(estimate, published.value) }];
  });
  return { children, settings, design, rule, headlines, checks: new Map(checks.map((check) => [check.id, check])) };
}

/** The group that a re-estimate tells of: where data were drawn at random, beside the published one alone. */
function groupOf(world: World, scenario: string, { estimate, speaks }: Reestimate): GroupId {
  const book = bookOf(world.children);
  const { members, isCase, atRandom } = speaks;
  if (!atRandom) return book.group(estimate, members, scenario, expendable.scenario, isCase);
  const published = world.headlines.find((headline) => headline.estimate.id === estimate)?.published;
  const beside = `${estimate} (${scenario})`;
  if (published !== undefined) book.standsBeside(beside, published.speaks.members);
  return book.group(beside, members, scenario, expendable.scenario);
}

function outcomesOf(world: World, scenario: string, found: readonly Reestimate[]): ScenarioResult["outcomes"] {
  return found.flatMap((one) => {
    const headline = world.headlines.find(({ estimate }) => estimate.id === one.estimate);
    if (headline === undefined || !Number.isFinite(one.value)) return [];
    const own = className(headline.estimate, one.value);
    return [
      {
        estimate: one.estimate,
        of: groupOf(world, scenario, one),
        value: one.value,
        low: one.low,
        high: one.high,
        standardError: one.variance >= 0 ? Math.sqrt(one.variance) : null,
        degreesOfFreedom: Number.isFinite(one.degreesOfFreedom) ? one.degreesOfFreedom : null,
        shift: one.value - headline.published.value,
        class: own,
        moves: own !== headline.class,
      },
    ];
  });
}

/** What a scenario gives: estimates, or why there are none. A throw is a reason like any other and ends nothing else. */
function tryScenario(scenario: Scenario, world: World): ReturnType<Scenario["run"]> {
  try {
    return scenario.run(world, randomStream(seedFor(world.settings.seed, scenario.id)));
  } catch (error) {
    const text = error instanceof Error ? error.message : String(error);
    return { notPossible: message("consequence.reason.failed", { error: text }) };
  }
}

/** Runs one scenario on its own random stream. */
export function runScenario(scenario: Scenario, world: World): ScenarioResult {
  const found = tryScenario(scenario, world);
  const { id, group, label, kind, checks } = scenario;
  const base = { id, group, label, kind, checks: [...checks] };
  const noted = scenario.note === undefined ? base : { ...base, note: scenario.note };
  if ("notPossible" in found) return { ...noted, reason: found.notPossible, outcomes: [] };
  const outcomes = outcomesOf(world, id, found);
  return outcomes.length > 0
    ? { ...noted, outcomes }
    : { ...noted, reason: message("consequence.reason.nobody"), outcomes };
}

/** The scenarios of one file; where it cannot even say which there are, one that says so. */
function scenariosOf({ id, group, scenarios }: ListedFile, world: World): readonly Scenario[] {
  try {
    return scenarios(world);
  } catch (error) {
    const text = error instanceof Error ? error.message : String(error);
    const reason = message("consequence.reason.failed", { error: text });
    const label = message(`scenario-group.${group}`);
    return [{ id: `${id}/failed`, group, label, kind: "estimate", checks: [], run: () => ({ notPossible: reason }) }];
  }
}

/** Every scenario of every file. Each has its own random stream, so that none depends on which others there are. */
export function runScenarios(world: World, files: readonly ListedFile[] = scenarioFiles): readonly ScenarioResult[] {
  return files.flatMap((file) => scenariosOf(file, world)).map((scenario) => runScenario(scenario, world));
}

/** Everything as computed, before it is decided what of it may be told. */
export interface Computed {
  readonly world: World;
  readonly runs: RepairRuns;
  readonly scenarios: readonly ScenarioResult[];
  readonly answers: readonly Answer[];
  readonly repairs: readonly RepairResult[];
}

/** How far each finding could move the prevalences; null where no prevalence could be estimated at all. */
export function computeConsequence(
  children: Children,
  settings: SurveySettings,
  estimates: readonly Estimate[],
  checks: readonly CheckResult[],
): Computed | null {
  const world = worldOf(children, settings, estimates, checks);
  if (world.headlines.length === 0) return null;
  const runs = runsOf(world);
  const scenarios = runScenarios(world);
  return { world, runs, scenarios, answers: answersOf(world, runs), repairs: repairResults(world, runs) };
}

/** What is told of it, in words, tables and pictures. */
export function tellConsequence({ world, runs, scenarios, answers, repairs }: Computed): Consequence {
  return present(world, runs, { answers, repairs, scenarios }, world.settings.decisions ?? []);
}
