import type { TextTable } from "../read/table.js";
import { type Note, note } from "../settings/notes.js";
import type { InputProblem } from "../settings/problems.js";
import {
  type CodingRole,
  codingRoles,
  type DateRole,
  dateRoles,
  type MeasureRole,
  measureRoles,
  type Role,
  type RoleSpec,
} from "../settings/roles.js";
import { showValue } from "../settings/show-value.js";
import { type ReadAge, readAge } from "./age-column.js";
import { type Cells, cellProblem, spreadNumbers } from "./cells.js";
import { clustersWithin } from "./clusters-within.js";
import { type ReadCodes, readCodes } from "./coded.js";
import { type ReadDates, readDates } from "./date-column.js";
import { halvesNotes } from "./halves.js";
import { readLabels } from "./labels.js";
import { type ReadMeasure, readMeasure } from "./measure.js";
import { codesMet, missingTexts } from "./missing.js";
import { readNumbers } from "./numbers.js";
import { roleCells } from "./option-columns.js";
import type { CodedColumn } from "./survey.js";

/** A plain number column: a sampling weight. */
export interface ReadNumberColumn {
  readonly cells: Cells;
  readonly values: Float64Array;
  readonly missing: Uint8Array;
  readonly problems: readonly InputProblem[];
}

/** Every column with a role, read. A role that is not in the data is absent. */
export interface ReadColumns {
  readonly measures: ReadonlyMap<MeasureRole, ReadMeasure>;
  readonly dates: ReadonlyMap<DateRole, ReadDates>;
  readonly codes: ReadonlyMap<CodingRole, ReadCodes>;
  readonly ageMonths: ReadAge | null;
  readonly samplingWeight: ReadNumberColumn | null;
  readonly labels: ReadonlyMap<Role, CodedColumn>;
  /** The clusters by their own labels and the column in which these start anew, where they do; `labels` has them apart. */
  readonly clustersIn: { readonly cluster: CodedColumn; readonly within: CodedColumn } | null;
  /** Problems of no single cell or column. */
  readonly problems: readonly InputProblem[];
  readonly notes: readonly Note[];
}

function readSamplingWeight(cells: Cells, spec: RoleSpec): ReadNumberColumn {
  const missing = missingTexts(cells, spec.missing);
  const { numbers, problems } = readNumbers(cells, missing, spec.decimal);
  const found: InputProblem[] = [...problems];
  numbers.forEach((value, index) => {
    if (value <= 0) found.push(cellProblem("weight-not-positive", cells, index));
  });
  return { cells, values: spreadNumbers(cells, numbers), missing, problems: found };
}

/** Roles whose labels are printed as they are: categories that the user named on purpose. */
const namedRoles: ReadonlySet<Role> = new Set<Role>(["area", "stratum"]);
const labelRoles = ["cluster", "stratum", "area", "team", "household"] as const;

/** Says which stated missing codes were met, and how often. */
function codeNotes(role: Role, cells: Cells, missing: Uint8Array, spec: RoleSpec): Note[] {
  if (spec.missing.length === 0) return [];
  return codesMet(cells, missing).map(({ value, count }) =>
    note("missing-code", { role, value: showValue(value), count }),
  );
}

/** Reads every column with a role. */
export function readColumns(table: TextTable, specs: ReadonlyMap<Role, RoleSpec>, oldest: number): ReadColumns {
  const notes: Note[] = [];
  const withCells = <Result>(role: Role, read: (cells: Cells, spec: RoleSpec) => Result): Result | null => {
    const spec = specs.get(role);
    const cells = spec === undefined ? null : roleCells(table, spec);
    return spec === undefined || cells === null ? null : read(cells, spec);
  };
  const collect = <Name extends Role, Result>(
    names: readonly Name[],
    read: (name: Name, cells: Cells, spec: RoleSpec) => Result,
  ) => {
    const results = new Map<Name, Result>();
    for (const name of names) {
      const result = withCells(name, (cells, spec) => read(name, cells, spec));
      if (result !== null) results.set(name, result);
    }
    return results;
  };
  const columns = {
    measures: collect(measureRoles, readMeasure),
    dates: collect(dateRoles, readDates),
    codes: collect(codingRoles, readCodes),
    ageMonths: withCells("age-months", (cells, spec) => readAge(cells, spec, oldest)),
    samplingWeight: withCells("sampling-weight", readSamplingWeight),
    labels: collect<Role, CodedColumn>(labelRoles, (role, cells, spec) => {
      const read = readLabels(cells, spec.missing, namedRoles.has(role), role === "household" ? "same" : "nearly");
      notes.push(...read.notes);
      return read.column;
    }),
  };
  notes.push(...halvesNotes(table, specs));
  const withMissing: [Role, { readonly cells: Cells; readonly missing: Uint8Array } | null][] = [
    ...columns.measures,
    ...columns.dates,
    ...columns.codes,
    ["age-months", columns.ageMonths],
    ["sampling-weight", columns.samplingWeight],
  ];
  for (const [role, read] of withMissing) {
    const spec = specs.get(role);
    if (read !== null && spec !== undefined) notes.push(...codeNotes(role, read.cells, read.missing, spec));
  }
  return { ...columns, ...withClusters(table, specs, columns.labels, notes) };
}

/** The labels with the clusters as they are to be counted. */
function withClusters(
  table: TextTable,
  specs: ReadonlyMap<Role, RoleSpec>,
  labels: ReadonlyMap<Role, CodedColumn>,
  notes: readonly Note[],
): Pick<ReadColumns, "labels" | "clustersIn" | "problems" | "notes"> {
  const cluster = labels.get("cluster");
  const spec = specs.get("cluster");
  if (cluster === undefined || spec === undefined) return { labels, clustersIn: null, problems: [], notes };
  const counted = clustersWithin(table, cluster, labels.get("stratum") ?? null, spec);
  const { within } = counted;
  return {
    labels: new Map([...labels, ["cluster", counted.cluster] as const]),
    clustersIn: within === null ? null : { cluster, within },
    problems: counted.problems,
    notes: [...notes, ...counted.notes],
  };
}

/** The dates that tell when a child was visited: of the interview, or else of its form. */
export function visitDates({ dates }: Pick<ReadColumns, "dates">): ReadDates | undefined {
  return dates.get("interview-date") ?? dates.get("entry-time");
}

/** Problems of all columns, in the order of the columns' roles. */
export function columnProblems(columns: ReadColumns): InputProblem[] {
  return [
    ...[...columns.dates.values()].flatMap((read) => read.problems),
    ...[...columns.codes.values()].flatMap((read) => read.problems),
    ...(columns.ageMonths?.problems ?? []),
    ...[...columns.measures.values()].flatMap((read) => read.problems),
    ...(columns.samplingWeight?.problems ?? []),
    ...columns.problems,
  ];
}
