import type { Difference, Pair, PairedScenario } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { compareIndependent } from "../stats/design/difference.js";
import { criticalProbabilities } from "../stats/false-discovery.js";
import { closestParts, type LeftOut, mostMovingParts, partsOf, samePart, scenarioOf } from "./left-out.js";
import type { SummaryOutcome, SummaryScenario, SurveySummary } from "./summary.js";
import { clearBelow, independentOf, verdictWhen } from "./verdict.js";

/** One scenario in one survey: its estimate; 'as-published' where there is nothing to change; or why there is none. */
type Side = { readonly outcome: SummaryOutcome; readonly changed: boolean } | { readonly reason: Message };

/** A scenario for both surveys of a pair. */
interface Match {
  readonly id: string;
  readonly label: Message;
  readonly kind: PairedScenario["kind"];
  readonly first: Side;
  readonly second: Side;
}

/** The published estimate as a scenario's outcome; null where it has no standard error. */
export function publishedOutcome(survey: SurveySummary, estimate: string): SummaryOutcome | null {
  const cell = survey.estimates.get(estimate)?.overall;
  if (cell?.value == null) return null;
  const { value, standardError, degreesOfFreedom, interval } = cell;
  return { value, standardError, degreesOfFreedom, low: interval?.low ?? null, high: interval?.high ?? null };
}

/**
 * A scenario in one survey. Where the survey does not list it there was nothing to change (no digits were heaped, no row
 * stood twice, the rule was already the published one), so that its published estimate stands. Excess spread that was
 * not there is the same case.
 */
function sideOf(survey: SurveySummary, id: string, estimate: string, published: SummaryOutcome): Side {
  const scenario = scenarioOf(survey, id);
  const outcome = scenario?.outcomes.get(estimate);
  if (outcome !== undefined) return { outcome, changed: outcome.value !== published.value };
  if (scenario === undefined || scenario.group === "spread") return { outcome: published, changed: false };
  return { reason: scenario.reason ?? message("compare.paired.reason.no-outcome") };
}

const isLeftOut = ({ id }: SummaryScenario): boolean => id.startsWith("leave-out-");

/** Scenarios that mean the same in any survey, matched by their id. */
function matchedById(first: SurveySummary, second: SurveySummary, estimate: string, base: Base): Match[] {
  const listed = new Map<string, SummaryScenario>();
  for (const scenario of [...first.scenarios, ...second.scenarios]) {
    if (!isLeftOut(scenario) && !listed.has(scenario.id)) listed.set(scenario.id, scenario);
  }
  return [...listed.values()].map(({ id, label, kind }) => ({
    id,
    label,
    kind,
    first: sideOf(first, id, estimate, base.first),
    second: sideOf(second, id, estimate, base.second),
  }));
}

interface Base {
  readonly first: SummaryOutcome;
  readonly second: SummaryOutcome;
}

const leftOutSide = (found: LeftOut | null, part: string): Side =>
  found === null ? { reason: message(`compare.paired.reason.no-${part}`) } : { outcome: found.outcome, changed: true };

/** Parts of the survey left out of both: what moves it most in each, what brings the two closest, and the same team. */
function matchedParts(first: SurveySummary, second: SurveySummary, estimate: string, base: Base): Match[] {
  const matches: Match[] = [];
  for (const part of ["team", "day", "cluster"] as const) {
    const one = partsOf(first, part, estimate);
    const two = partsOf(second, part, estimate);
    if (one.length === 0 && two.length === 0) continue;
    const add = (name: string, kind: Match["kind"], found: readonly [LeftOut | null, LeftOut | null]): void => {
      const label = message(`compare.paired.scenario.${part}-${name}`);
      const [a, b] = found;
      matches.push({ id: `${part}/${name}`, label, kind, first: leftOutSide(a, part), second: leftOutSide(b, part) });
    };
    add("in-each", "estimate", mostMovingParts(one, two, base));
    add("closest", "bound", closestParts(one, two, base));
  }
  for (const { label, found } of samePart(first, second, estimate)) {
    const [a, b] = found;
    matches.push({
      id: `same-team/${label}`,
      label: message("compare.paired.scenario.same-team", { team: label }),
      kind: "estimate",
      first: { outcome: a, changed: true },
      second: { outcome: b, changed: true },
    });
  }
  return matches;
}

/** Missing children as unfavourable to the difference as they can be: all cases where it is lower, none where higher. */
function missingAgainst(first: SurveySummary, second: SurveySummary, estimate: string, base: Base): Match[] {
  const ids = ["missing/all-cases", "missing/none-a-case"] as const;
  const listed = [...first.scenarios, ...second.scenarios].some(({ id }) => id === ids[0]);
  if (!listed) return [];
  const [up, down] = base.second.value >= base.first.value ? ids : ([ids[1], ids[0]] as const);
  return [
    {
      id: "missing/closest",
      label: message("compare.paired.scenario.missing-closest"),
      kind: "bound",
      first: sideOf(first, up, estimate, base.first),
      second: sideOf(second, down, estimate, base.second),
    },
  ];
}

/** The difference under one scenario, held to what this pair must pass while the other pairs stay as they are. */
function evaluate(match: Match, base: Difference, critical: number): PairedScenario | null {
  const { id: scenario, label, kind, first, second } = match;
  const untold = (difference: number | null, reason: Message): PairedScenario => {
    const { pair, estimate } = base;
    return { pair, estimate, scenario, label, kind, difference, interval: null, verdict: "cannot-tell", reason };
  };
  if ("reason" in first) return untold(null, first.reason);
  if ("reason" in second) return untold(null, second.reason);
  if (!first.changed && !second.changed) return null;
  const found = compareIndependent(independentOf(second.outcome), independentOf(first.outcome));
  const { difference, probability, low, high, level } = found;
  if (Number.isNaN(probability)) return untold(difference, message("compare.paired.reason.no-error"));
  const interval = { low, high, level };
  const verdict = verdictWhen(probability <= critical, difference);
  return { pair: base.pair, estimate: base.estimate, scenario, label, kind, difference, interval, verdict };
}

function evaluatePair(first: SurveySummary, second: SurveySummary, base: Difference, critical: number) {
  const { estimate } = base;
  const one = publishedOutcome(first, estimate);
  const two = publishedOutcome(second, estimate);
  if (one === null || two === null) return [];
  const published = { first: one, second: two };
  return [
    ...matchedById(first, second, estimate, published),
    ...missingAgainst(first, second, estimate, published),
    ...matchedParts(first, second, estimate, published),
  ].flatMap((match) => evaluate(match, base, critical) ?? []);
}

/** Why no scenario can be paired for two surveys; null where they can. */
export function notPairable(first: SurveySummary, second: SurveySummary, rule: string): Message | null {
  for (const survey of [first, second]) {
    if (survey.scenarios.length === 0) return message("compare.paired.reason.no-scenarios", { survey: survey.title });
  }
  // Scenarios were computed under each survey's own rule: under another one they answer another question.
  const same = [first, second].every(({ definition }) => definition.exclusionRule === rule);
  return same ? null : message("compare.paired.reason.rules");
}

/**
 * Every difference again under every scenario applied to both surveys. A difference keeps or changes its verdict under a
 * scenario by the same rule it got it by: the probability it had to reach under false-discovery control over all pairs
 * of its question and estimate, the others staying as they are.
 */
export function pairedScenariosOf(
  pairs: readonly Pair[],
  summaries: readonly SurveySummary[],
  differences: readonly Difference[],
): PairedScenario[] {
  const survey = new Map(summaries.map((one) => [one.key, one]));
  const pairOf = new Map(pairs.map((pair) => [pair.id, pair]));
  const families = new Map<string, Difference[]>();
  for (const difference of differences) {
    const family = `${pairOf.get(difference.pair)?.question} ${difference.estimate}`;
    families.set(family, [...(families.get(family) ?? []), difference]);
  }
  return [...families.values()].flatMap((family) => {
    const critical = criticalProbabilities(
      family.map(({ probability }) => probability ?? Number.NaN),
      clearBelow,
    );
    return family.flatMap((difference, i) => {
      const pair = pairOf.get(difference.pair);
      const first = survey.get(pair?.first ?? "");
      const second = survey.get(pair?.second ?? "");
      if (first === undefined || second === undefined || difference.verdict === "cannot-tell") return [];
      if (notPairable(first, second, difference.rule) !== null) return [];
      return evaluatePair(first, second, difference, critical[i] as number);
    });
  });
}

/** The scenario in which every finding that has a repair is put right, in both surveys. */
const findingsPutRight = "together/all";

function repairedOf(scenario: PairedScenario | undefined): NonNullable<Difference["paired"]>["repaired"] {
  if (scenario?.difference == null || scenario.interval === null) return null;
  const { difference, interval, verdict } = scenario;
  return { difference, interval, verdict };
}

/**
 * Differences with the number of paired scenarios in which their verdict stays. Lines that rest on a contested
 * assumption are not counted, nor are those that could not be paired.
 */
export function withPaired(differences: readonly Difference[], scenarios: readonly PairedScenario[]): Difference[] {
  const key = (one: { readonly pair: string; readonly estimate: string }): string => `${one.pair} ${one.estimate}`;
  const byDifference = new Map<string, PairedScenario[]>();
  for (const scenario of scenarios) {
    if (scenario.kind === "sensitivity" || scenario.verdict === "cannot-tell") continue;
    const known = byDifference.get(key(scenario));
    if (known === undefined) byDifference.set(key(scenario), [scenario]);
    else known.push(scenario);
  }
  return differences.map((difference) => {
    const counted = byDifference.get(key(difference));
    if (counted === undefined) return difference;
    const away = (one: PairedScenario): number => Math.abs((one.difference ?? 0) - (difference.difference ?? 0));
    const movers = counted.filter((one) => one.verdict !== difference.verdict).sort((a, b) => away(b) - away(a));
    const paired = {
      total: counted.length,
      stands: counted.length - movers.length,
      movers: movers.map((one) => one.scenario),
      repaired: repairedOf(counted.find(({ scenario }) => scenario === findingsPutRight)),
    };
    return { ...difference, paired };
  });
}
