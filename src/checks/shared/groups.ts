import type { CodedColumn } from "../../columns/survey.js";
import { rowsByCode } from "../../derive/rows-by-code.js";

/** One group of a column (a team, an area) with its children, as positions in the columns. */
export interface Group {
  /** Label that may be printed. */
  readonly label: string;
  /** Its code in the column. */
  readonly code: number;
  readonly members: Int32Array;
}

/** The groups of a column in the order of its labels; children without a label belong to none. Empty groups are left out. */
export function groupsOf(column: CodedColumn | null): Group[] {
  if (column === null) return [];
  return rowsByCode(column.codes, column.labels.length)
    .map((own, code) => ({ label: column.publicLabels[code] ?? "", code, members: own }))
    .filter((group) => group.members.length > 0);
}
