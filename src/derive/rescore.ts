import { daysPerMonth } from "./age.js";
import { type Children, type IndexId, indexIds, type ZColumn } from "./children.js";
import { placeHeights } from "./position.js";
import { type ScoreInput, scoreIndex, scoreInputOf } from "./scores.js";

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
 * does not have cannot be added. `only` narrows which indices are derived again, for speed: the others keep their former
 * scores, so name every index that the changed columns enter and that is looked at afterwards. `rows` narrows it to the rows
 * that the changes are in, where the scores of the others are those of their columns.
 */
export function rescore(
  children: Children,
  changed: ChangedColumns,
  widthAroundMean: number,
  only: readonly IndexId[] = indexIds,
  rows?: Int32Array,
): Children {
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
  const placed = placeHeights(input.ageDays, input.height, input.position);
  const indices: Record<IndexId, ZColumn> = { ...children.indices };
  for (const index of only) {
    const standing = rows === undefined ? undefined : { column: children.indices[index], rows };
    indices[index] = scoreIndex(index, input, placed, standing);
  }
  return { ...moved, ...placed, indices };
}
