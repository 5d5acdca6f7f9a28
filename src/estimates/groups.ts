import type { Children } from "../derive/children.js";
import { rowsByCode } from "../derive/rows-by-code.js";
import type { CodedColumn } from "../describe/survey.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { designAt, type SurveyDesign } from "../stats/design/survey-design.js";

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
  const codes = new Int32Array(children.count);
  for (let i = 0; i < children.count; i++) codes[i] = (children.sex[i] as number) - 1;
  return { by: "sex", codes, labels: [message("sex.male"), message("sex.female")] };
}

function byAge(children: Children): Grouping {
  const codes = new Int32Array(children.count).fill(-1);
  for (let i = 0; i < children.count; i++) {
    const months = children.ageMonths[i] as number;
    for (let group = 0; group < ageGroups.length; group++) {
      const { from, to } = ageGroups[group] as (typeof ageGroups)[number];
      if (months >= from && months < to + 1) codes[i] = group;
    }
  }
  return { by: "age-group", codes, labels: ageGroups.map((group) => message("age-group", { ...group })) };
}

function byColumn(by: string, column: CodedColumn): Grouping {
  const grouping: Grouping = { by, codes: column.codes, labels: column.publicLabels };
  return by === "column" ? { ...grouping, columnName: column.name } : grouping;
}

/** Whether at least two groups hold children. */
function isSplit({ codes, labels }: Grouping): boolean {
  const seen = new Uint8Array(labels.length);
  for (let i = 0; i < codes.length; i++) if ((codes[i] as number) >= 0) seen[codes[i] as number] = 1;
  return seen.indexOf(1) !== seen.lastIndexOf(1);
}

function makeGroupings(children: Children): readonly Grouping[] {
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
  return all.filter(isSplit);
}

/** Splits already made: every estimate asks for those of the same children. */
const known = new WeakMap<Children, readonly Grouping[]>();

/** Every split the data allow, each with at least two groups that hold children. A column used twice is split once. */
export function groupings(children: Children): readonly Grouping[] {
  const made = known.get(children) ?? makeGroupings(children);
  known.set(children, made);
  return made;
}

/** The children of one group, in the order of the file, and the survey's design seen at them. */
export interface GroupRows {
  readonly rows: Int32Array;
  readonly design: SurveyDesign;
}

function makeRows({ codes, labels }: Grouping, design: SurveyDesign): readonly GroupRows[] {
  return rowsByCode(codes, labels.length).map((rows) => ({ rows, design: designAt(design, rows) }));
}

const knownRows = new WeakMap<Grouping, WeakMap<SurveyDesign, readonly GroupRows[]>>();

/** The rows of every group, one entry a label; made in one pass, and once for the same split and design. */
export function groupRows(grouping: Grouping, design: SurveyDesign): readonly GroupRows[] {
  const ofGrouping = knownRows.get(grouping) ?? new WeakMap<SurveyDesign, readonly GroupRows[]>();
  knownRows.set(grouping, ofGrouping);
  const made = ofGrouping.get(design) ?? makeRows(grouping, design);
  ofGrouping.set(design, made);
  return made;
}
