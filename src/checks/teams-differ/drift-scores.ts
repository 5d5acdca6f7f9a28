import type { Children } from "../../derive/children.js";
import { leastSquares } from "../../stats/least-squares.js";
import { keptScores } from "../shared/kept-scores.js";

/** What can drift: the scale, seen in weight-for-height; the board, seen in height-for-age. */
export type DriftMeasure = "weight" | "height";

/** The values whose trend is looked at, and whether weight was held against the arm circumference. */
interface DriftScores {
  readonly values: Float64Array;
  readonly heldAgainstArm: boolean;
}

/** A trend needs at least this many children of a team. Judgement. */
export const fewestForDrift = 50;

/** Share of the children with weight-for-height that must have another index for it to be held against. Judgement. */
const fewestShare = 0.8;

/** Team of each cluster-by-team cell, and the cell of each child. */
export interface Cells {
  readonly ofChild: Int32Array;
  readonly team: Int32Array;
}

/** The cells of the survey: children of one team in one cluster. */
export function cellsOf(children: Children): Cells {
  const ofChild = new Int32Array(children.count).fill(-1);
  const known = new Map<number, number>();
  const teams: number[] = [];
  const teamCount = children.team?.labels.length ?? 0;
  for (let child = 0; child < children.count; child++) {
    const team = children.team?.codes[child] ?? -1;
    if (team < 0) continue;
    // Without clusters a team is one cell: its children count as drawn one by one.
    const key = ((children.cluster?.codes[child] ?? 0) + 1) * teamCount + team;
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
  const weight = keptScores(children, "weight-for-height");
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

/** The values whose trend is looked at, around 0. */
export function driftScores(children: Children, measure: DriftMeasure): DriftScores {
  if (measure === "weight") return weightScores(children, cellsOf(children));
  return { values: aroundZero(keptScores(children, "height-for-age")), heldAgainstArm: false };
}

/**
 * One z in kg or cm in this survey: the coefficient of the score in a regression of the measure on the score and on what
 * the score is conditional on (height for weight-for-height; age for height-for-age), with squares. About 1 kg and 3 cm.
 */
export function unitPerZ(children: Children, measure: DriftMeasure): number {
  const index = measure === "weight" ? "weight-for-height" : "height-for-age";
  const z = keptScores(children, index);
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
