import type { Children } from "../../derive/children.js";
import { expendable, type GroupBook } from "../../disclosure/book.js";
import type { GroupId } from "../../results/group.js";
import { withholdBelow } from "../../results/withhold-below.js";
import {
  clusteredSlope,
  nestedVarianceComponents,
  type Slope,
  type VarianceComponents,
} from "../../stats/clustered-slope.js";
import { upperNormal } from "../../stats/confidence.js";
import { studentQuantile, studentTwoSided } from "../../stats/student-t.js";
import type { CheckInput } from "../check.js";
import { groupsOf } from "../shared/groups.js";
import { partOf } from "../shared/told.js";
import { type Cells, cellsOf, type DriftMeasure, driftScores, fewestForDrift, unitPerZ } from "./drift-scores.js";

/** Mean of one team on one day, or on several days in a row that together have enough children to be told of. */
interface DayMean {
  readonly of: GroupId;
  /** Days since the survey's first day: the mean day of its children. */
  readonly day: number;
  readonly n: number;
  readonly mean: number;
  readonly low: number;
  readonly high: number;
}

/** The trend of one team over its own days. */
export interface TeamDrift {
  readonly of: GroupId | null;
  readonly team: number;
  readonly measure: DriftMeasure;
  readonly n: number;
  /** Days on which the team measured anybody. */
  readonly dayCount: number;
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

/** The team's children by day, in order; days in a row are joined until each run may be told of. */
function runsOfDays(day: Float64Array, members: readonly number[]): number[][] {
  const sorted = [...members].sort((a, b) => (day[a] as number) - (day[b] as number));
  const runs: number[][] = [];
  let run: number[] = [];
  sorted.forEach((child, i) => {
    run.push(child);
    const next = sorted[i + 1];
    if (next !== undefined && day[next] === day[child]) return;
    if (run.length < withholdBelow) return;
    runs.push(run);
    run = [];
  });
  const last = runs.at(-1);
  // Too few at the end belong to the run before them.
  if (run.length > 0 && last !== undefined) last.push(...run);
  return runs;
}

function dayMeans(values: Float64Array, members: readonly number[], within: number, input: DriftInput): DayMean[] {
  const { day, measure, book } = input;
  return runsOfDays(day, members).map((run) => {
    const marks = new Uint8Array(values.length);
    for (const child of run) marks[child] = 1;
    const n = run.length;
    const mean = run.reduce((sum, child) => sum + (values[child] as number), 0) / n;
    const at = run.reduce((sum, child) => sum + (day[child] as number), 0) / n;
    const half = upperNormal * Math.sqrt(within / n);
    const of = book.group(`drift/${measure}`, marks, "days in a row of a team", expendable.check);
    return { of, day: at, n, mean, low: mean - half, high: mean + half };
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
  readonly book: GroupBook;
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
  { team, of }: Pick<TeamDrift, "team" | "of">,
  members: readonly number[],
  components: VarianceComponents,
  input: DriftInput,
): TeamDrift {
  const { values, day, measure, unit } = input;
  const distinct = [...new Set(members.map((child) => day[child] as number))].sort((a, b) => a - b);
  const first = distinct[0] ?? Number.NaN;
  const last = distinct.at(-1) ?? Number.NaN;
  const clustersUnknown = input.clustered && !(components.degreesOfFreedom >= fewestClusterDf);
  const tooFew = distinct.length < fewestDays || members.length < fewestForDrift || clustersUnknown;
  const { slope, standardError, intercept, degreesOfFreedom } = tooFew
    ? { slope: Number.NaN, standardError: Number.NaN, intercept: Number.NaN, degreesOfFreedom: Number.NaN }
    : trendOf(members, first, input, components);
  const half = studentQuantile(0.975, degreesOfFreedom) * standardError;
  const change = slope * (last - first);
  return {
    of,
    team,
    measure,
    n: members.length,
    dayCount: distinct.length,
    days: of === null ? [] : dayMeans(values, members, components.within, input),
    slope,
    low: slope - half,
    high: slope + half,
    probability:
      of !== null && standardError > 0 ? studentTwoSided(slope / standardError, degreesOfFreedom) : Number.NaN,
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
  { children, book }: Pick<CheckInput, "children" | "book">,
  measure: DriftMeasure,
): { readonly teams: readonly TeamDrift[]; readonly heldAgainstArm: boolean } {
  const { interviewDay, team } = children;
  if (interviewDay === null || team === null) return { teams: [], heldAgainstArm: false };
  const cells = cellsOf(children);
  const { values, heldAgainstArm } = driftScores(children, measure);
  const first = firstOf(interviewDay);
  const day = interviewDay.map((at) => at - first);
  const input = {
    book,
    values,
    day,
    cells,
    measure,
    unit: unitPerZ(children, measure),
    clustered: children.cluster !== null,
  };
  const known = (child: number) => !Number.isNaN(values[child]) && !Number.isNaN(day[child]);
  const subject = book.subject(
    `drift/${measure}`,
    Uint8Array.from(values, (_, child) => (known(child) ? 1 : 0)),
  );
  const teams = groupsOf(team).map(({ code, label, members }) => {
    const of = partOf(subject, "team", team, { code, label });
    return driftOf(
      { team: code, of },
      Array.from(members).filter(known),
      componentsOf(children, values, cells, code),
      input,
    );
  });
  return { teams: teams.filter((one) => one.n > 0), heldAgainstArm };
}
