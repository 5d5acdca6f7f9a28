import type { Children } from "../derive/children.js";
import { clusteredSlope, nestedVarianceComponents, type VarianceComponents } from "../stats/clustered-slope.js";
import { leastSquares } from "../stats/least-squares.js";
import { studentQuantile, studentTwoSided } from "../stats/student-t.js";
import { groupsOf } from "./groups.js";
import { keptScores } from "./kept-scores.js";

/** What can drift: the scale, seen in weight-for-height; the board, seen in height-for-age. */
export type DriftMeasure = "weight" | "height";

/** Mean of one team on one day. */
export interface DayMean {
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

/** The values whose trend is looked at, and whether weight was held against the arm circumference. */
interface DriftScores {
  readonly values: Float64Array;
  readonly heldAgainstArm: boolean;
}

/** A trend needs at least this many days, and children, of a team. Judgement. */
const fewestDays = 4;
const fewestForDrift = 50;
/** Degrees of freedom between clusters below which the clusters' own differences are not known. Judgement. */
const fewestClusterDf = 6;
/** Share of the children with weight-for-height that must have another index for it to be held against. Judgement. */
const fewestShare = 0.8;

/** Team of each cluster-by-team cell, and the cell of each child. */
interface Cells {
  readonly ofChild: Int32Array;
  readonly team: Int32Array;
}

function cellsOf(children: Children): Cells {
  const ofChild = new Int32Array(children.count).fill(-1);
  const known = new Map<string, number>();
  const teams: number[] = [];
  for (let child = 0; child < children.count; child++) {
    const team = children.team?.codes[child] ?? -1;
    if (team < 0) continue;
    // Without clusters a team is one cell: its children count as drawn one by one.
    const key = `${children.cluster?.codes[child] ?? 0}/${team}`;
    const cell = known.get(key) ?? teams.length;
    if (cell === teams.length) {
      known.set(key, cell);
      teams.push(team);
    }
    ofChild[child] = cell;
  }
  return { ofChild, team: Int32Array.from(teams) };
}

/** A column less its mean in each cell; children without a value or cell are left out. */
function withinCells(values: Float64Array, cells: Cells, use: Uint8Array): Float64Array {
  const sum = new Float64Array(cells.team.length);
  const size = new Float64Array(cells.team.length);
  for (let child = 0; child < values.length; child++) {
    if (use[child] !== 1) continue;
    const cell = cells.ofChild[child] as number;
    sum[cell] = (sum[cell] as number) + (values[child] as number);
    size[cell] = (size[cell] as number) + 1;
  }
  const kept: number[] = [];
  for (let child = 0; child < values.length; child++) {
    if (use[child] !== 1) continue;
    const cell = cells.ofChild[child] as number;
    kept.push((values[child] as number) - (sum[cell] as number) / (size[cell] as number));
  }
  return Float64Array.from(kept);
}

/** What else of a child bears on its weight-for-height: arm and height as measured, their squares and product, and sex. */
function companions(children: Children): Float64Array[] {
  const { arm, standardHeight, sex } = children;
  if (arm === null) return [];
  // Near 1, so that squares and roots keep their precision.
  const arms = arm.values.map((value) => value / 150);
  const heights = standardHeight.map((value) => value / 90);
  return [
    arms,
    arms.map((value) => value ** 2),
    heights,
    heights.map((value) => value ** 2),
    arms.map((value, child) => value * (heights[child] as number)),
    Float64Array.from(sex, (code) => (code === 0 ? Number.NaN : code)),
  ];
}

/**
 * Weight-for-height less what arm circumference and height say of it: the residual of a regression within clusters. A tape
 * and a board do not drift with the scale, while a thin cluster is thin by the tape too; so the residual keeps the scale's
 * drift and loses much of the real difference between children and places. Measures as they were read are used, not
 * scores for age, so that ages badly known do no harm. Where a fifth of the children lack an arm circumference it is not used.
 */
function weightScores(children: Children, cells: Cells): DriftScores {
  const weight = keptScores(children, "weight-for-height", "fixed");
  const inCell = (child: number) => (cells.ofChild[child] as number) >= 0;
  const all = Uint8Array.from(weight, (value, child) => (!Number.isNaN(value) && inCell(child) ? 1 : 0));
  const known = companions(children);
  const complete = all.map((use, child) => (use === 1 && known.every((one) => !Number.isNaN(one[child])) ? 1 : 0));
  const enough = known.length > 0 && sum(complete) >= fewestShare * sum(all);
  const use = enough ? complete : all;
  const others = enough ? known : [];
  const fit = leastSquares(
    others.map((values) => withinCells(values, cells, use)),
    withinCells(weight, cells, use),
  );
  const residual = weight.map((value, child) => {
    if (use[child] !== 1) return Number.NaN;
    return others.reduce((rest, values, k) => rest - (fit.coefficients[k] ?? 0) * (values[child] as number), value);
  });
  return { values: aroundZero(residual), heldAgainstArm: enough };
}

function sum(flags: Uint8Array): number {
  return flags.reduce((total, flag) => total + flag, 0);
}

function aroundZero(values: Float64Array): Float64Array {
  let sum = 0;
  let n = 0;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    sum += value;
    n++;
  }
  return values.map((value) => value - sum / n);
}

function driftScores(children: Children, measure: DriftMeasure): DriftScores {
  if (measure === "weight") return weightScores(children, cellsOf(children));
  return { values: aroundZero(keptScores(children, "height-for-age", "fixed")), heldAgainstArm: false };
}

/**
 * One z in kg or cm in this survey: the coefficient of the score in a regression of the measure on the score and on what
 * the score is conditional on (height for weight-for-height; age for height-for-age), with squares. About 1 kg and 3 cm.
 */
function unitPerZ(children: Children, measure: DriftMeasure): number {
  const index = measure === "weight" ? "weight-for-height" : "height-for-age";
  const z = keptScores(children, index, "fixed");
  const values = (measure === "weight" ? children.weight : children.height)?.values;
  const given = measure === "weight" ? children.standardHeight : children.ageMonths;
  if (values === undefined) return Number.NaN;
  const kept = Array.from(z, (_, child) => child).filter(
    (child) => !Number.isNaN((z[child] as number) + (values[child] as number) + (given[child] as number)),
  );
  if (kept.length < fewestForDrift) return Number.NaN;
  const column = (of: (child: number) => number) => Float64Array.from(kept, of);
  const scale = measure === "weight" ? 100 : 60;
  const fit = leastSquares(
    [
      column(() => 1),
      column((child) => (given[child] as number) / scale),
      column((child) => ((given[child] as number) / scale) ** 2),
      column((child) => Math.sqrt((given[child] as number) / scale)),
      column((child) => z[child] as number),
    ],
    column((child) => values[child] as number),
  );
  return fit.rank === 5 ? (fit.coefficients[4] ?? Number.NaN) : Number.NaN;
}

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
  const others = cells.ofChild.map((cell) => (cells.team[cell] === team ? -1 : cell));
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

function driftOf(
  team: number,
  members: readonly number[],
  components: VarianceComponents,
  input: DriftInput,
): TeamDrift {
  const { values, day, cells, measure, unit } = input;
  const days = dayMeans(values, day, members, components.within);
  const first = days[0]?.day ?? Number.NaN;
  const last = days[days.length - 1]?.day ?? Number.NaN;
  const clustersUnknown = input.clustered && !(components.degreesOfFreedom >= fewestClusterDf);
  const tooFew = days.length < fewestDays || members.length < fewestForDrift || clustersUnknown;
  const since = day.map((at) => at - first);
  const { slope, standardError, intercept, degreesOfFreedom } = tooFew
    ? { slope: Number.NaN, standardError: Number.NaN, intercept: Number.NaN, degreesOfFreedom: Number.NaN }
    : clusteredSlope(values, since, cells.ofChild, members, components);
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
