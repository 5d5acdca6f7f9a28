import { daysPerMonth } from "./age.js";
import type { Children } from "./children.js";
import { deriveScores, type ScoreInput, scoreInputOf } from "./scores.js";

/** Columns a scenario may replace; each as long as there are children. */
export type ChangedColumns = Partial<
  Readonly<{
    ageDays: Float64Array;
    weight: Float64Array;
    height: Float64Array;
    arm: Float64Array;
    head: Float64Array;
    position: Uint8Array;
  }>
>;

function replaced<Column extends { readonly values: Float64Array } | null>(
  column: Column,
  values: Float64Array | undefined,
): Column {
  return column === null || values === undefined ? column : { ...column, values };
}

/**
 * The same children with some columns changed and everything that follows from them derived again: months, positions,
 * heights, z-scores, exclusions. Children stay in the survey whatever age they are given; a measure that the survey
 * does not have cannot be added.
 */
export function rescore(children: Children, changed: ChangedColumns, widthAroundMean: number): Children {
  const ageDays = changed.ageDays ?? children.ageDays;
  const moved: Children = {
    ...children,
    ageDays,
    ageMonths: changed.ageDays === undefined ? children.ageMonths : ageDays.map((days) => days / daysPerMonth),
    weight: replaced(children.weight, changed.weight),
    height: replaced(children.height, changed.height),
    arm: replaced(children.arm, changed.arm),
    head: replaced(children.head, changed.head),
    position: changed.position ?? children.position,
  };
  const input: ScoreInput = scoreInputOf(moved, widthAroundMean);
  return { ...moved, ...deriveScores(input) };
}
