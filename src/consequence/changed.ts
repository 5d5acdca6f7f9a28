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

/** The children with some columns changed; only the indices behind the headlines that the columns enter are derived again. */
export function changedChildren(world: World, changed: ChangedColumns, more: readonly IndexId[] = []): Children {
  const indices = new Set([...columnsOf(changed).flatMap((column) => entered[column]), ...more]);
  return rescore(world.children, changed, world.settings.exclusions.widthAroundMean, [...indices]);
}
