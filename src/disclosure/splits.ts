import type { CodedColumn } from "../columns/survey.js";
import type { Children } from "../derive/children.js";
import { rowsByCode } from "../derive/rows-by-code.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { designAt, type SurveyDesign } from "../stats/design/survey-design.js";

/** A way to split the children: a group code for every child (-1 in none) and what to print for each group. */
export interface Grouping {
  /** The same for every split of the same column, whatever it is used for. */
  readonly key: string;
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
  return { key: "sex", by: "sex", codes, labels: [message("sex.male"), message("sex.female")] };
}

function byAge(children: Children): Grouping {
  const codes = agesWithin(children, ageGroups);
  return {
    key: "age-group",
    by: "age-group",
    codes,
    labels: ageGroups.map((group) => message("age-group", { ...group })),
  };
}

/** The key of a column's split. */
export const keyOf = (column: CodedColumn): string => `column ${column.name}`;

/** Bands of age that several checks compare, in completed months. */
export const ageBands = [
  { from: 0, to: 5 },
  { from: 6, to: 23 },
  { from: 24, to: 59 },
] as const;

/** The age group of every child among those of a list; -1 outside all. */
function agesWithin(children: Children, groups: readonly { readonly from: number; readonly to: number }[]): Int32Array {
  return Int32Array.from(children.ageMonths, (months) =>
    groups.findIndex(({ from, to }) => months >= from && months < to + 1),
  );
}

function byColumn(by: string, column: CodedColumn): Grouping {
  const grouping: Grouping = { key: keyOf(column), by, codes: column.codes, labels: column.publicLabels };
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

type AnySplit = Pick<Grouping, "key" | "codes" | "labels">;
const knownSplits = new WeakMap<Children, readonly AnySplit[]>();

/** Every split that anything printed may use: those of the estimates, and those that only checks compare. */
export function allSplits(children: Children): readonly AnySplit[] {
  const known = knownSplits.get(children) ?? makeAll(children);
  knownSplits.set(children, known);
  return known;
}

function makeAll(children: Children): readonly AnySplit[] {
  const bands = { key: "age-band", codes: agesWithin(children, ageBands), labels: ageBands.map(() => "") };
  const { ageKnownHow: how, area, stratum, team } = children;
  const columns = [area, stratum, team, how, ...children.subgroups].filter((column) => column !== null);
  const splits = [bySex(children), byAge(children), bands, ...columns.map((column) => byColumn("column", column))];
  return [...new Map(splits.map((split) => [split.key, split])).values()];
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
