import { type Cells, cellsOf, spreadNumbers } from "../columns/cells.js";
import { matchName } from "../columns/column-names.js";
import { readLabels } from "../columns/labels.js";
import { parseNumber } from "../columns/numbers.js";
import { smallPlaceWords, weightingWords } from "../columns/role-names.js";
import type { CodedColumn, UnreadColumn } from "../columns/survey.js";
import { speaksOf } from "../columns/words.js";
import type { TextTable } from "../read/table.js";
import { type ChosenColumns, usedNames } from "../settings/chosen-columns.js";
import type { Role } from "../settings/roles.js";
import { showValue } from "../settings/show-value.js";
import { isOneOf, shareOf } from "./plausible.js";

/** Roles of the design that a column without a role is tried for; an area may be a stratum. */
const tried = ["sampling-weight", "cluster", "stratum", "area"] as const satisfies readonly Role[];

/** Whether a column's name is that of a part of the design that no column was named for: the run then tells what it would change. */
export function isDesignName(name: string, has: (role: Role) => boolean): boolean {
  if (isSmallPlace(name) && !has("cluster")) return true;
  return matchName(name).some(({ role }) => isOneOf(tried, role) && !has(role));
}

/** True for a column of villages and the like, which may be the clusters. */
function isSmallPlace(name: string): boolean {
  return speaksOf(name, smallPlaceWords);
}

/** Letters, digits and the usual signs, and no long number: what a name of a column looks like, and a person or a telephone number does not. */
const headerLike = /^(?!.*\d{5})[\p{L}\p{N}_/.:()%-]{1,40}$/u;

/** A column as it may be told of: by its name, or by its place in the file where the name might be somebody's. */
function tellable(name: string, place: number): string {
  return headerLike.test(name) || matchName(name).length > 0 ? showValue(name) : `#${place + 1}`;
}

/** Numbers above nought in nearly every row, not all the same. */
function positiveNumbers(cells: Cells): Float64Array | null {
  const positive = (text: string): boolean => Number.isFinite(parseNumber(text)) && parseNumber(text) > 0;
  if (shareOf(cells, positive) < 0.95) return null;
  const numbers = cells.values.map((text) => (positive(text) ? parseNumber(text) : Number.NaN));
  return new Set(numbers.filter((number) => !Number.isNaN(number))).size > 1 ? spreadNumbers(cells, numbers) : null;
}

/** True where every row of a cluster, or of a stratum, has the same number, as sampling weights have. */
function isConstantIn(place: CodedColumn | null, values: Float64Array): boolean {
  if (place === null) return false;
  const of = new Map<number, number>();
  for (const [row, value] of values.entries()) {
    const code = place.codes[row] as number;
    if (code < 0 || Number.isNaN(value)) continue;
    if ((of.get(code) ?? value) !== value) return false;
    of.set(code, value);
  }
  return of.size > 1 && of.size < values.length / 2;
}

/** Whole numbers of a cluster are more often its number, its people or its altitude than a weight, unless the name speaks of one. */
function canBeWeights(name: string, values: Float64Array): boolean {
  return speaksOf(name, weightingWords) || values.some((value) => !Number.isNaN(value) && !Number.isInteger(value));
}

/**
 * Columns that have no role and could be a part of the survey's design that is missing: sampling weights, by their name or since they
 * are the same throughout a cluster or stratum; clusters and strata by their names, villages as clusters. What using them would change is found out
 * later; none of their values is ever told.
 */
export function unreadColumns(
  table: TextTable,
  chosen: ChosenColumns,
  places: { readonly cluster: CodedColumn | null; readonly stratum: CodedColumn | null },
): UnreadColumn[] {
  const has = (role: Role): boolean => chosen.specs.has(role);
  const used = new Set(usedNames(chosen));
  return table.columns.flatMap(({ name }, place): UnreadColumn[] => {
    const cells = used.has(name) ? null : cellsOf(table, name);
    if (cells === null) return [];
    const fits = (role: Role): boolean => matchName(name).some((match) => match.role === role);
    const told = { column: tellable(name, place), sheetRow: table.sheetRow };
    const numbers = has("sampling-weight") ? null : positiveNumbers(cells);
    const isWeight =
      numbers !== null &&
      (fits("sampling-weight") ||
        (canBeWeights(name, numbers) &&
          (isConstantIn(places.cluster, numbers) || isConstantIn(places.stratum, numbers))));
    if (isWeight) return [{ ...told, role: "sampling-weight", values: numbers }];
    const role = !has("cluster") && (fits("cluster") || isSmallPlace(name)) ? "cluster" : "stratum";
    if (role === "stratum" && (has("stratum") || !(fits("stratum") || fits("area")))) return [];
    const { codes, labels } = readLabels(cells, [], true).column;
    return labels.length < 2 || labels.length * 2 > table.rowCount
      ? []
      : [{ ...told, role, codes, labels: labels.length }];
  });
}
