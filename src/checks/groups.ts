import type { CodedColumn } from "../describe/survey.js";

/** One group of a column (a team, an area) with its children, as positions in the columns. */
export interface Group {
  /** Label that may be printed. */
  readonly label: string;
  readonly members: Int32Array;
}

/** The groups of a column in the order of its labels; children without a label belong to none. Empty groups are left out. */
export function groupsOf(column: CodedColumn | null): Group[] {
  if (column === null) return [];
  const sizes = new Int32Array(column.labels.length);
  for (const code of column.codes) if (code >= 0) sizes[code] = (sizes[code] ?? 0) + 1;
  const members = Array.from(sizes, (size) => new Int32Array(size));
  const filled = new Int32Array(column.labels.length);
  for (let child = 0; child < column.codes.length; child++) {
    const code = column.codes[child] ?? -1;
    if (code < 0) continue;
    const place = filled[code] ?? 0;
    const own = members[code];
    if (own !== undefined) own[place] = child;
    filled[code] = place + 1;
  }
  return members
    .map((own, code) => ({ label: column.publicLabels[code] ?? "", members: own }))
    .filter((group) => group.members.length > 0);
}
