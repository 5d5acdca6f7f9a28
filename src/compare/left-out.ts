import type { SummaryOutcome, SummaryScenario, SurveySummary } from "./summary.js";

/** An estimate with one part of its survey left out. */
export interface LeftOut {
  /** What was left out: a team's code, a day's number, 'lowest' or 'highest'. */
  readonly part: string;
  readonly outcome: SummaryOutcome;
}

type Part = "team" | "day" | "cluster";

/** Each survey's scenarios by their ids: every pair it stands in asks for all of them, for every estimate. */
const byIdOf = new WeakMap<SurveySummary, ReadonlyMap<string, SummaryScenario>>();

/** A survey's scenario of this id. */
export function scenarioOf(survey: SurveySummary, id: string): SummaryScenario | undefined {
  const known = byIdOf.get(survey) ?? new Map(survey.scenarios.map((one) => [one.id, one]));
  byIdOf.set(survey, known);
  return known.get(id);
}

const partsOfSurvey = new WeakMap<SurveySummary, Map<string, readonly LeftOut[]>>();

/** Every 'left out' scenario of a survey for one kind of part. */
export function partsOf(survey: SurveySummary, part: Part, estimate: string): readonly LeftOut[] {
  const known = partsOfSurvey.get(survey) ?? new Map<string, readonly LeftOut[]>();
  partsOfSurvey.set(survey, known);
  const key = `${part} ${estimate}`;
  const parts = known.get(key) ?? findParts(survey, part, estimate);
  known.set(key, parts);
  return parts;
}

function findParts(survey: SurveySummary, part: Part, estimate: string): LeftOut[] {
  const prefix = `leave-out-${part}/`;
  return survey.scenarios.flatMap((scenario) => {
    const outcome = scenario.id.startsWith(prefix) ? scenario.outcomes.get(estimate) : undefined;
    return outcome === undefined ? [] : [{ part: scenario.id.slice(prefix.length), outcome }];
  });
}

function best(parts: readonly LeftOut[], score: (value: number) => number): LeftOut | null {
  return parts.reduce<LeftOut | null>(
    (most, one) => (most === null || score(one.outcome.value) > score(most.outcome.value) ? one : most),
    null,
  );
}

interface Base {
  readonly first: SummaryOutcome;
  readonly second: SummaryOutcome;
}

/** In each survey the part that moves its estimate most, whichever way. */
export function mostMovingParts(
  first: readonly LeftOut[],
  second: readonly LeftOut[],
  base: Base,
): readonly [LeftOut | null, LeftOut | null] {
  return [
    best(first, (value) => Math.abs(value - base.first.value)),
    best(second, (value) => Math.abs(value - base.second.value)),
  ];
}

/** In each survey the part without which the two estimates come closest: the lower one raised, the higher one lowered. */
export function closestParts(
  first: readonly LeftOut[],
  second: readonly LeftOut[],
  base: Base,
): readonly [LeftOut | null, LeftOut | null] {
  const sign = base.second.value >= base.first.value ? 1 : -1;
  return [best(first, (value) => sign * value), best(second, (value) => -sign * value)];
}

/** Teams whose code stands in both surveys, each left out of both; nothing where only extremes are known. */
export function samePart(
  first: SurveySummary,
  second: SurveySummary,
  estimate: string,
): { readonly label: string; readonly found: readonly [SummaryOutcome, SummaryOutcome] }[] {
  const other = new Map(partsOf(second, "team", estimate).map(({ part, outcome }) => [part, outcome]));
  return partsOf(first, "team", estimate).flatMap(({ part, outcome }) => {
    const found = other.get(part);
    if (found === undefined || part === "lowest" || part === "highest") return [];
    return [{ label: part, found: [outcome, found] as const }];
  });
}
