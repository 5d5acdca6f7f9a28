import type { Children } from "../derive/children.js";
import type { CodedColumn } from "../describe/survey.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";

/** A way to split the children: a group code for every child (-1 in none) and what to print for each group. */
export interface Grouping {
  /** 'sex', 'age-group', 'stratum', 'area', 'team' or 'column' for one the user named. */
  readonly by: string;
  /** The user's own column name, for by = 'column'. */
  readonly columnName?: string;
  readonly codes: Int32Array;
  readonly labels: readonly (string | Message)[];
}

/** Completed months, both inclusive: the customary age groups of child nutrition surveys (common practice, no source). */
export const ageGroups = [
  { from: 0, to: 5 },
  { from: 6, to: 11 },
  { from: 12, to: 23 },
  { from: 24, to: 35 },
  { from: 36, to: 47 },
  { from: 48, to: 59 },
] as const;

function bySex(children: Children): Grouping {
  const codes = Int32Array.from(children.sex, (code) => code - 1);
  return { by: "sex", codes, labels: [message("sex.male"), message("sex.female")] };
}

function byAge(children: Children): Grouping {
  const codes = Int32Array.from(children.ageMonths, (months) =>
    Number.isNaN(months) ? -1 : ageGroups.findIndex((group) => months >= group.from && months < group.to + 1),
  );
  return { by: "age-group", codes, labels: ageGroups.map((group) => message("age-group", { ...group })) };
}

function byColumn(by: string, column: CodedColumn): Grouping {
  const grouping: Grouping = { by, codes: column.codes, labels: column.publicLabels };
  return by === "column" ? { ...grouping, columnName: column.name } : grouping;
}

/** Every split the data allow, each with at least two groups that hold children. A column used twice is split once. */
export function groupings(children: Children): readonly Grouping[] {
  const all = [bySex(children), byAge(children)];
  const seen = new Set<string>();
  const add = (by: string, column: CodedColumn | null): void => {
    if (column === null || seen.has(column.name)) return;
    seen.add(column.name);
    all.push(byColumn(by, column));
  };
  add("area", children.area);
  add("stratum", children.stratum);
  for (const column of children.subgroups) add("column", column);
  add("team", children.team);
  return all.filter((grouping) => new Set(grouping.codes).size - (grouping.codes.includes(-1) ? 1 : 0) >= 2);
}
