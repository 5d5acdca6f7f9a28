import type { Children, IndexId } from "../derive/children.js";
import { scoreCriterion } from "../derive/outcome.js";
import { type ChangedColumns, rescore } from "../derive/rescore.js";
import type { PrevalenceEstimate } from "../estimates/estimate.js";
import type { World } from "./scenario.js";

/** The indices behind the headline prevalences that each column enters. */
const entered: Readonly<Record<keyof ChangedColumns, readonly IndexId[]>> = {
  weight: ["weight-for-height", "weight-for-age"],
  height: ["weight-for-height", "height-for-age"],
  position: ["weight-for-height", "height-for-age"],
  // Age decides between length and height, and with it the table that weight is held against.
  ageDays: ["weight-for-height", "height-for-age", "weight-for-age"],
  arm: [],
  head: [],
};

const columnsOf = (changed: ChangedColumns) => Object.keys(changed) as (keyof ChangedColumns)[];

/** Whether an estimate could come out otherwise with these columns changed. */
export function restsOn(estimate: PrevalenceEstimate, changed: ChangedColumns): boolean {
  const columns = columnsOf(changed);
  const criterion = scoreCriterion(estimate.outcome);
  if (criterion !== null) return columns.some((column) => entered[column].includes(criterion.index));
  return (
    !estimate.outcome.includes("by-arm-circumference") || columns.some((one) => one === "arm" || one === "ageDays")
  );
}

/** 1 for the rows of a list. */
export function marksOf(rows: Int32Array, count: number): Uint8Array {
  const marks = new Uint8Array(count);
  for (const row of rows) marks[row] = 1;
  return marks;
}

/** A measure or the age as the survey has it; null where it has none. */
export function columnBefore(children: Children, name: Exclude<keyof ChangedColumns, "position">): Float64Array | null {
  return name === "ageDays" ? children.ageDays : (children[name]?.values ?? null);
}

/** How many are marked. */
export const countOf = (marks: Uint8Array): number => marks.reduce((sum, one) => sum + one, 0);

/** Rows in which any of the columns differs from what the survey has. */
export function changedRows(children: Children, changed: ChangedColumns): Int32Array {
  const differs = new Uint8Array(children.count);
  for (const name of columnsOf(changed)) {
    const now = changed[name] ?? [];
    const before = (name === "position" ? children.position : columnBefore(children, name)) ?? [];
    for (let i = 0; i < differs.length; i++) if (!Object.is(now[i], before[i])) differs[i] = 1;
  }
  const rows = new Int32Array(children.count);
  let count = 0;
  for (let i = 0; i < differs.length; i++) if (differs[i] === 1) rows[count++] = i;
  return rows.slice(0, count);
}

/**
 * The children with some columns changed; only the indices behind the headlines that the columns enter are derived again, and only
 * where a column did change.
 */
export function changedChildren(world: World, changed: ChangedColumns, more: readonly IndexId[] = []): Children {
  const { children, settings } = world;
  const indices = new Set([...columnsOf(changed).flatMap((column) => entered[column]), ...more]);
  const rows = changedRows(children, changed);
  return rescore(children, changed, settings.exclusions.widthAroundMean, [...indices], rows);
}
