import { type Cells, cellsOf } from "../columns/cells.js";
import type { TextTable } from "../read/table.js";
import { withholdBelow } from "../results/withhold-below.js";
import { type InputProblem, inputProblem } from "../settings/problems.js";
import type { Role, RoleSpec } from "../settings/roles.js";
import { isOneOf, presentIndices } from "./plausible.js";

/** Seven digits and more with the signs that stand between those of a telephone number. Own rule. */
const telephone = /^[+(]{0,2}\d[\d ()./+-]{5,}\d$/;
const date = /^\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}(?:[ T].*)?$/;

/** With fewer values than this a column of categories can hold each of them once. Own rule. */
const fewestToTell = 50;

const digitsOf = (text: string): number => text.replace(/\D/g, "").length;

/** How many rows hold each value that is not empty. */
function filledCounts(cells: Cells): { readonly text: string; readonly rows: number }[] {
  return presentIndices(cells).map((at) => ({ text: (cells.values[at] ?? "").trim(), rows: cells.counts[at] ?? 0 }));
}

/**
 * True where a column's values are of the kind that tells of one person: most of them telephone numbers, or dates, or each row
 * a value of its own, as names are.
 */
export function tellsOfPeople(cells: Cells): boolean {
  const filled = filledCounts(cells);
  const rows = filled.reduce((sum, one) => sum + one.rows, 0);
  const most = (holds: (text: string) => boolean): boolean =>
    filled.filter(({ text }) => holds(text)).length > filled.length / 2;
  if (filled.length === 0) return false;
  if (most((text) => telephone.test(text) && digitsOf(text) >= 7)) return true;
  if (filled.length > 1 && most((text) => date.test(text))) return true;
  return rows >= fewestToTell && filled.length > rows / 2;
}

/** True where most groups of a column would hold fewer children than anything is told of. */
export function isMostlySmall(cells: Cells): boolean {
  const filled = filledCounts(cells);
  const rows = filled.reduce((sum, one) => sum + one.rows, 0);
  return rows >= 2 * withholdBelow && filled.filter((one) => one.rows < withholdBelow).length > filled.length / 2;
}

/** Roles whose labels the report prints as they stand in the file. */
const printedRoles: readonly Role[] = ["area", "stratum"];

/** True where a column must not be taken for a role without being asked for: its labels would be printed, and tell of people. */
export function mustBeAsked(role: Role, cells: Cells): boolean {
  return isOneOf(printedRoles, role) && (tellsOfPeople(cells) || (role === "area" && isMostlySmall(cells)));
}

/** Columns that the settings name for something whose labels are printed, although their values tell of people. */
export function personalColumns(
  table: TextTable,
  specs: ReadonlyMap<Role, RoleSpec>,
  subgroups: readonly string[],
): InputProblem[] {
  const named = [...printedRoles.flatMap((role) => specs.get(role)?.column ?? []), ...subgroups];
  return [...new Set(named)].flatMap((name) => {
    const cells = cellsOf(table, name);
    if (cells === null || !tellsOfPeople(cells)) return [];
    return [inputProblem("column-tells-of-people", cells.file, { column: name })];
  });
}
