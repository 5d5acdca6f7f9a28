import type { MeasureColumn } from "../../columns/survey.js";
import { type Children, type IndexId, indexIds, noScoreReasons } from "../../derive/children.js";
import { message } from "../../results/message.js";
import type { Message } from "../../results/schema.js";
import type { SurveySettings } from "../../settings/settings.js";
import type { RowToCheck } from "../check.js";
import { suggestionsFor } from "./row-suggestions.js";
import { suspectsOf } from "./suspects.js";

/** The measures that an index rests on. */
function measuresOf({ weight, height, arm, head }: Children, index: IndexId): readonly (MeasureColumn | null)[] {
  switch (index) {
    case "weight-for-height":
    case "bmi-for-age":
      return [weight, height];
    case "height-for-age":
      return [height];
    case "weight-for-age":
      return [weight];
    case "arm-for-age":
      return [arm];
    case "head-for-age":
      return [head];
  }
}

/** The indices of one child that lie beyond the limits. */
function indicesOutside({ indices }: Children, child: number): IndexId[] {
  return indexIds.filter((index) => indices[index].outsideFixed[child] === 1 && !Number.isNaN(indices[index].z[child]));
}

const outsideTable = noScoreReasons.indexOf("outside-table");

/** True for a child whose length or height lies beyond the standard's tables, so that it has no weight-for-height. */
function isOffTable({ indices }: Children, child: number): boolean {
  return indices["weight-for-height"].why[child] === outsideTable;
}

/** Columns of the file that the indices rest on, each once: the measures, and where age enters, what the age comes from. */
function columnsOf(children: Children, indices: readonly IndexId[]): string[] {
  const names = indices.flatMap((index) => measuresOf(children, index).flatMap((column) => column?.name ?? []));
  return [...new Set(names)];
}

function said({ indices }: Children, outside: readonly IndexId[], child: number): Message {
  const values = (index: IndexId) => ({ index: message(`index.${index}`), z: indices[index].z[child] as number });
  const [first] = outside;
  if (first === undefined) return message("checks.implausible-values.row.off-table");
  if (outside.length === 1) return message("checks.implausible-values.row", values(first));
  const all = outside.map((index) => message("checks.implausible-values.row.index", values(index)));
  return message("checks.implausible-values.row.several", { all });
}

/**
 * One entry a child with a z-score beyond the limits, or with a length or height beyond the standard's tables: what is
 * unusual, the columns concerned, and what may have gone wrong where one slip explains it all.
 */
export function rowsOf(children: Children, settings: SurveySettings): RowToCheck[] {
  const unusual: { readonly child: number; readonly outside: readonly IndexId[] }[] = [];
  for (let child = 0; child < children.count; child++) {
    const outside = indicesOutside(children, child);
    if (outside.length > 0 || isOffTable(children, child)) unusual.push({ child, outside });
  }
  const rows = unusual.map(({ child }) => child);
  const suspects = suspectsOf(children, rows, settings.exclusions.widthAroundMean);
  const suggestions = suggestionsFor(suspects, children, settings);
  return unusual.map(({ child, outside }, row) => {
    const base: RowToCheck = {
      sheetRow: children.sheetRow[child] as number,
      columns: columnsOf(children, outside.length > 0 ? outside : ["height-for-age"]),
      byAge: outside.some((index) => index !== "weight-for-height") && children.ageSource[child] !== 0,
      message: said(children, outside, child),
    };
    const suggestion = suggestions[row] ?? null;
    return suggestion === null ? base : { ...base, suggestion };
  });
}
