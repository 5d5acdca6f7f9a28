import type { Children } from "../derive/children.js";
import { outcome } from "../derive/outcome.js";
import type { CheckId } from "../results/check-ids.js";
import { message } from "../results/message.js";
import { reestimate } from "./reestimate.js";
import type { Headline, Reestimate, Scenario, ScenarioFile, World } from "./scenario.js";

/** A way to part the survey: a code for every child, -1 for children in no part. */
interface Parts<Name extends "team" | "day" | "cluster" = "team" | "day" | "cluster"> {
  readonly name: Name;
  readonly codes: ArrayLike<number>;
  readonly count: number;
  readonly checks: readonly CheckId[];
  /** How each part is named in ids and words: [id, values of the label]. */
  readonly named: readonly (readonly [string, Readonly<Record<string, string | number>>])[];
}

/** Any of them. */
export type Part = Parts;
/** Parts that a reader knows by their names. */
type NamedParts = Parts<"team" | "day">;

/** More parts than this and only the two that pull each estimate most are shown. */
export const mostShown = 15;

/** The estimate without each part, from the parts' totals alone; NaN for a part that holds nobody, and without the last one. */
export function withoutEach(
  world: World,
  { estimate }: Headline,
  codes: ArrayLike<number>,
  count: number,
): Float64Array {
  const { design, children, rule } = world;
  const { isCase, inDomain } = outcome(children, estimate.outcome, rule);
  const cases = new Float64Array(count);
  const weights = new Float64Array(count);
  let allCases = 0;
  let allWeights = 0;
  for (let i = 0; i < design.count; i++) {
    const weight = design.weight[i] ?? 0;
    if (inDomain[i] !== 1 || !(weight > 0)) continue;
    allWeights += weight;
    if (isCase[i] === 1) allCases += weight;
    const part = codes[i] ?? -1;
    if (part < 0) continue;
    weights[part] = (weights[part] ?? 0) + weight;
    if (isCase[i] === 1) cases[part] = (cases[part] ?? 0) + weight;
  }
  return weights.map((weight, part) =>
    weight > 0 && weight < allWeights ? (allCases - (cases[part] ?? 0)) / (allWeights - weight) : Number.NaN,
  );
}

/** The part without which the estimate is lowest, or highest; -1 where there is none. */
export function mostInfluential(without: Float64Array, direction: "lowest" | "highest"): number {
  let found = -1;
  for (let part = 0; part < without.length; part++) {
    const value = without[part] ?? Number.NaN;
    if (Number.isNaN(value)) continue;
    const best = without[found] ?? Number.NaN;
    if (found < 0 || (direction === "lowest" ? value < best : value > best)) found = part;
  }
  return found;
}

function reestimateWithout(world: World, { estimate }: Headline, codes: ArrayLike<number>, part: number): Reestimate {
  const only = new Uint8Array(world.children.count);
  for (let i = 0; i < only.length; i++) if (codes[i] !== part) only[i] = 1;
  return reestimate(world.children, world.design, estimate, world.rule, only);
}

function withoutOne(parts: NamedParts, part: number): Scenario {
  const [id, values] = parts.named[part] ?? ["", {}];
  return {
    id: `leave-out-${parts.name}/${id}`,
    group: "influence",
    label: message(`scenario.leave-out-${parts.name}`, values),
    kind: "estimate",
    checks: parts.checks,
    run: (world) => world.headlines.map((headline) => reestimateWithout(world, headline, parts.codes, part)),
  };
}

function withoutExtreme(parts: Part, direction: "lowest" | "highest"): Scenario {
  return {
    id: `leave-out-${parts.name}/${direction}`,
    group: "influence",
    label: message(`scenario.leave-out-${parts.name}.${direction}`),
    kind: "estimate",
    checks: parts.checks,
    run: (world) =>
      world.headlines.flatMap((headline) => {
        const part = mostInfluential(withoutEach(world, headline, parts.codes, parts.count), direction);
        return part < 0 ? [] : [reestimateWithout(world, headline, parts.codes, part)];
      }),
  };
}

function extremes(parts: Part): Scenario[] {
  return [withoutExtreme(parts, "lowest"), withoutExtreme(parts, "highest")];
}

function eachOrExtremes(parts: NamedParts): Scenario[] {
  if (parts.count < 2) return [];
  if (parts.count > mostShown) return extremes(parts);
  return parts.named.map((_, part) => withoutOne(parts, part));
}

function teamsOf({ team }: Children): NamedParts | null {
  if (team === null) return null;
  const named = team.publicLabels.map((label) => [label, { team: label }] as const);
  return { name: "team", codes: team.codes, count: team.labels.length, checks: ["teams-differ"], named };
}

/** Survey days of all teams, which no check reads one by one; numbered from 1 in the order of the calendar; days without interviews do not count. */
function daysOf({ interviewDay }: Children): NamedParts | null {
  if (interviewDay === null) return null;
  const days = [...new Set(interviewDay)].filter((day) => !Number.isNaN(day)).sort((a, b) => a - b);
  const codeOf = new Map(days.map((day, code) => [day, code]));
  const codes = Int32Array.from(interviewDay, (day) => codeOf.get(day) ?? -1);
  const named = days.map((_, code) => [String(code + 1), { day: code + 1 }] as const);
  return { name: "day", codes, count: days.length, checks: [], named };
}

/** Only clusters that were sampled as such: without a cluster column every child is one of its own. */
function clustersOf({ children, design }: World): Part | null {
  if (children.cluster === null || design.clusterCount < 3) return null;
  return { name: "cluster", codes: design.cluster, count: design.clusterCount, checks: ["clusters-differ"], named: [] };
}

/** Every way in which the survey is parted: by team, day and cluster, where it has them. */
export function partsOf(world: World): Part[] {
  return [teamsOf(world.children), daysOf(world.children), clustersOf(world)].filter(
    (one) => one !== null && one.count > 1,
  ) as Part[];
}

/**
 * The survey without each team, without each day, and without the one cluster that pulls each estimate most in either
 * direction (found by leaving out every cluster in turn; only the extremes are reported, and of teams and days too where
 * there are many). What is left out stays part of the sampling design, as a domain without children.
 */
export const influence: ScenarioFile = (world) => {
  const teams = teamsOf(world.children);
  const days = daysOf(world.children);
  const clusters = clustersOf(world);
  return [
    ...(teams === null ? [] : eachOrExtremes(teams)),
    ...(days === null ? [] : eachOrExtremes(days)),
    ...(clusters === null ? [] : extremes(clusters)),
  ];
};
