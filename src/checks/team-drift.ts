import type { Children } from "../derive/children.js";
import {
  clusteredSlope,
  nestedVarianceComponents,
  type Slope,
  type VarianceComponents,
} from "../stats/clustered-slope.js";
import { studentQuantile, studentTwoSided } from "../stats/student-t.js";
import { type Cells, cellsOf, type DriftMeasure, driftScores, fewestForDrift, unitPerZ } from "./drift-scores.js";
import { groupsOf } from "./groups.js";

/** Mean of one team on one day. */
interface DayMean {
  /** Days since the survey's first day. */
  readonly day: number;
  readonly n: number;
  readonly mean: number;
  readonly low: number;
  readonly high: number;
}

/** The trend of one team over its own days. */
export interface TeamDrift {
  readonly team: number;
  readonly measure: DriftMeasure;
  readonly n: number;
  readonly days: readonly DayMean[];
  /** z a day; NaN where the team has too few days. */
  readonly slope: number;
  readonly low: number;
  readonly high: number;
  readonly probability: number;
  /** Slope in kg or cm a day. */
  readonly perDay: number;
  /** Slope times the days from the team's first to its last. */
  readonly change: number;
  /** Fitted values at the team's first and last day. */
  readonly fitted: readonly { readonly day: number; readonly mean: number }[];
}

/** A trend needs at least this many days of a team. Judgement. */
const fewestDays = 4;

/** Degrees of freedom between clusters below which the clusters' own differences are not known. Judgement. */
const fewestClusterDf = 6;

function dayMeans(values: Float64Array, day: Float64Array, members: readonly number[], within: number): DayMean[] {
  const days = new Map<number, { n: number; sum: number }>();
  for (const child of members) {
    const own = days.get(day[child] as number) ?? { n: 0, sum: 0 };
    own.n++;
    own.sum += values[child] as number;
    days.set(day[child] as number, own);
  }
  return [...days.entries()]
    .sort(([a], [b]) => a - b)
    .map(([at, { n, sum }]) => {
      const half = 1.959963984540054 * Math.sqrt(within / n);
      return { day: at, n, mean: sum / n, low: sum / n - half, high: sum / n + half };
    });
}

/**
 * Components of variance between and within the clusters of the other teams, so that a drift does not hide itself by
 * widening what it is held against; without clusters all variance is within.
 */
function componentsOf(children: Children, values: Float64Array, cells: Cells, team: number): VarianceComponents {
  const teamCount = children.team?.labels.length ?? 0;
  const others = cells.ofChild.slice();
  for (let child = 0; child < others.length; child++) {
    if (cells.team[others[child] as number] === team) others[child] = -1;
  }
  const found = nestedVarianceComponents(values, others, cells.team, teamCount);
  if (children.cluster !== null) return found;
  return { ...found, between: 0, degreesOfFreedom: 0 };
}

interface DriftInput {
  readonly values: Float64Array;
  readonly day: Float64Array;
  readonly cells: Cells;
  readonly measure: DriftMeasure;
  readonly unit: number;
  readonly clustered: boolean;
}

/** The slope over the days since the team's first, from its own children alone. */
function trendOf(members: readonly number[], first: number, input: DriftInput, components: VarianceComponents): Slope {
  const { values, day, cells } = input;
  const y = Float64Array.from(members, (child) => values[child] as number);
  const since = Float64Array.from(members, (child) => (day[child] as number) - first);
  const cell = Int32Array.from(members, (child) => cells.ofChild[child] as number);
  return clusteredSlope(y, since, cell, [...members.keys()], components);
}

function driftOf(
  team: number,
  members: readonly number[],
  components: VarianceComponents,
  input: DriftInput,
): TeamDrift {
  const { values, day, measure, unit } = input;
  const days = dayMeans(values, day, members, components.within);
  const first = days[0]?.day ?? Number.NaN;
  const last = days[days.length - 1]?.day ?? Number.NaN;
  const clustersUnknown = input.clustered && !(components.degreesOfFreedom >= fewestClusterDf);
  const tooFew = days.length < fewestDays || members.length < fewestForDrift || clustersUnknown;
  const { slope, standardError, intercept, degreesOfFreedom } = tooFew
    ? { slope: Number.NaN, standardError: Number.NaN, intercept: Number.NaN, degreesOfFreedom: Number.NaN }
    : trendOf(members, first, input, components);
  const half = studentQuantile(0.975, degreesOfFreedom) * standardError;
  const change = slope * (last - first);
  return {
    team,
    measure,
    n: members.length,
    days,
    slope,
    low: slope - half,
    high: slope + half,
    probability: standardError > 0 ? studentTwoSided(slope / standardError, degreesOfFreedom) : Number.NaN,
    perDay: slope * unit,
    change,
    fitted: Number.isNaN(slope)
      ? []
      : [
          { day: first, mean: intercept },
          { day: last, mean: intercept + change },
        ],
  };
}

/** The earliest day that is known. */
function firstOf(days: Float64Array): number {
  let first = Number.POSITIVE_INFINITY;
  for (const day of days) if (day < first) first = day;
  return first;
}

/**
 * Trends of every team over its own days in one measure; none where days are unknown or clusters too few. The slope is a
 * generalised least squares one with a random level for every cluster, its components of variance estimated over all
 * teams, so that a team that moved from a thin to a better-off cluster is not read as a drifting scale.
 */
export function drifts(
  children: Children,
  measure: DriftMeasure,
): { readonly teams: readonly TeamDrift[]; readonly heldAgainstArm: boolean } {
  const { interviewDay, team } = children;
  if (interviewDay === null || team === null) return { teams: [], heldAgainstArm: false };
  const cells = cellsOf(children);
  const { values, heldAgainstArm } = driftScores(children, measure);
  const first = firstOf(interviewDay);
  const day = interviewDay.map((at) => at - first);
  const input = {
    values,
    day,
    cells,
    measure,
    unit: unitPerZ(children, measure),
    clustered: children.cluster !== null,
  };
  const known = (child: number) => !Number.isNaN(values[child]) && !Number.isNaN(day[child]);
  const teams = groupsOf(team).map(({ members }) => {
    const code = team.codes[members[0] ?? 0] ?? 0;
    return driftOf(code, Array.from(members).filter(known), componentsOf(children, values, cells, code), input);
  });
  return { teams: teams.filter((one) => one.n > 0), heldAgainstArm };
}
