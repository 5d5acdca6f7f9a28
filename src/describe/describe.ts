import { agesApartNotes } from "../columns/ages-agree.js";
import { cellsOf, spreadCodes } from "../columns/cells.js";
import type { ReadCodes } from "../columns/coded.js";
import { isSentTime } from "../columns/column-names.js";
import { crossCheck } from "../columns/cross-checks.js";
import type { ReadDates } from "../columns/date-column.js";
import { timeOfDay } from "../columns/dates.js";
import { withoutEmptyRows } from "../columns/empty-rows.js";
import { positionFromColumns } from "../columns/halves.js";
import { type CodedGroup, codedGroups, withCodes, withoutCodedLabels } from "../columns/label-codes.js";
import { type ReadLabels, readLabels } from "../columns/labels.js";
import { columnProblems, type ReadColumns, readColumns } from "../columns/read-columns.js";
import { repeatedNotes } from "../columns/repeating-codes.js";
import { samplePlan } from "../columns/sample-plan.js";
import { agesSetAside, setAsideNotes, setAsideTogether } from "../columns/set-aside.js";
import { populationProblems, stratumProblems, weightNotes, withStrataNamed } from "../columns/strata-in-settings.js";
import type { CodedColumn, Survey } from "../columns/survey.js";
import type { TextTable } from "../read/table.js";
import { type ChosenColumns, usedNames } from "../settings/chosen-columns.js";
import { makeSettings } from "../settings/make-settings.js";
import { type Note, note } from "../settings/notes.js";
import { InputError, type InputProblem } from "../settings/problems.js";
import { type CodingRole, type Role, unusedRoles } from "../settings/roles.js";
import { showValue } from "../settings/show-value.js";
import { codeTexts, type SurveyFile } from "../settings/survey-file.js";
import { chooseColumns } from "./choose-columns.js";
import { personalColumns } from "./personal.js";
import { unreadColumns } from "./unread-columns.js";

export interface DescribeOptions {
  /** Day of the run, days since 1970-01-01: later dates are a problem. Not looked at when absent. */
  readonly today?: number;
  /** The list of clusters that the settings name, read. */
  readonly clusterList?: TextTable | null;
  /** Groups whose labels are replaced by codes, beside those that the settings name. */
  readonly codes?: readonly CodedGroup[];
}

/** Codes for every row, with one code for what is missing. */
function withMissing(read: ReadCodes, missing: number): Uint8Array {
  return spreadCodes(
    read.cells,
    Uint8Array.from(read.byText, (code) => (code < 0 ? missing : code)),
  );
}

/** 'documented' and 'recalled' as categories; what stands in the file itself is not kept. */
function ageKnownHow(read: ReadCodes): CodedColumn {
  const labels = ["documented", "recalled"];
  const codes = Int32Array.from(read.cells.codes, (code) => read.byText[code] ?? -1);
  return { name: read.cells.name, codes, labels, publicLabels: labels, disguised: false };
}

/** How the columns were understood, where the settings did not say. */
function understood(table: TextTable, columns: ReadColumns, chosen: ChosenColumns): Note[] {
  const notes: Note[] = [];
  for (const { id, values } of table.notes ?? []) notes.push(note(id, values));
  if (table.encodingAssumed === true) {
    // A word of the body, or of a column that is not used, may be a person's name: only a used column's name is repeated.
    const word = table.encodingSample ?? "";
    const inHeader = word !== "" && usedNames(chosen).some((name) => name.includes(word));
    const encoding = table.encoding === "windows-1256" ? "Windows-1256" : "Windows-1252";
    notes.push(inHeader ? note("encoding-assumed-word", { encoding, word }) : note("encoding-assumed", { encoding }));
  }
  for (const [role, read] of columns.dates) {
    if (read.serial) notes.push(note("dates-serial", { role }));
    if (read.orderFound && read.order !== null) notes.push(note("date-order-found", { role, order: read.order }));
  }
  for (const [role, read] of columns.measures) {
    if (read.unit !== null && chosen.specs.get(role)?.unit === undefined) {
      notes.push(note("unit-found", { role, unit: read.unit.id }));
    }
  }
  if (columns.ageMonths?.unit === "days" && chosen.specs.get("age-months")?.unit === undefined) {
    notes.push(note("unit-found", { role: "age-months", unit: "days" }));
  }
  notes.push(...setAsideNotes(columns), ...repeatedNotes(columns), ...agesApartNotes(columns));
  if (columns.codes.get("sex")?.byIsoSexNumbers === true) notes.push(note("sex-iso-5218"));
  const weight = columns.samplingWeight;
  const empty = weight?.values.reduce((sum, value) => sum + (Number.isNaN(value) ? 1 : 0), 0) ?? 0;
  if (empty > 0) notes.push(note("sampling-weight-empty", { count: empty }));
  for (const role of unusedRoles) if (chosen.specs.has(role)) notes.push(note("role-not-used", { role }));
  return notes;
}

/** Optional columns whose values are not understood: guessed ones are left out with a note, named ones are a problem. */
function dropUnclear(
  columns: ReadColumns,
  guessed: boolean,
): { readonly columns: ReadColumns; readonly notes: Note[] } {
  const isUnclear = (read: { readonly problems: readonly InputProblem[] } | undefined): boolean =>
    guessed && read !== undefined && read.problems.length > 0;
  const dropped = [
    ...(isUnclear(columns.codes.get("age-known-how")) ? ["age-known-how" as const] : []),
    ...(isUnclear(columns.dates.get("entry-time")) ? ["entry-time" as const] : []),
  ];
  const keep = <Name extends Role, Read>(all: ReadonlyMap<Name, Read>) =>
    new Map([...all].filter(([role]) => !(dropped as readonly Role[]).includes(role)));
  return {
    columns: { ...columns, codes: keep(columns.codes), dates: keep(columns.dates) },
    notes: dropped.map((role) => note("role-left-out", { role, candidates: 1 })),
  };
}

/** The moment of each row's form: its day, and the time of day as it is written. */
function entryTimes(read: ReadDates): Float64Array {
  const times = read.cells.values.map(timeOfDay);
  return read.days.map((day, row) => day + (times[read.cells.codes[row] ?? 0] ?? Number.NaN));
}

/** The day of the interview: from its own column, else the day on which the form was opened or sent. */
function interviewDays(columns: ReadColumns): { readonly days: Float64Array | null; readonly notes: readonly Note[] } {
  const own = columns.dates.get("interview-date");
  if (own !== undefined) return { days: own.days, notes: [] };
  const entry = columns.dates.get("entry-time");
  if (entry === undefined) return { days: null, notes: [] };
  const id = isSentTime(entry.cells.name) ? "interview-day-from-sending" : "interview-day-from-entry";
  return { days: entry.days, notes: [note(id, { column: showValue(entry.cells.name) })] };
}

/** The columns with codes for the labels of clusters and teams, where the settings or the call ask for them. */
function codeLabels(columns: ReadColumns, survey: SurveyFile | null, asked: readonly CodedGroup[]): ReadColumns {
  const privacy = survey?.values.privacy;
  const labels = new Map(columns.labels);
  const said: Note[] = [];
  for (const group of codedGroups) {
    const role = group === "clusters" ? "cluster" : "team";
    const column = labels.get(role);
    if (column === undefined || (privacy?.[group] !== "codes" && !asked.includes(group))) continue;
    labels.set(role, withCodes(column, group, privacy?.secret ?? ""));
    said.push(note("labels-coded", { group }));
  }
  const hidden = [...labels].flatMap(([role, column]) => (columns.labels.get(role) === column ? [] : [column]));
  for (const role of ["area", "stratum", "cluster", "team"] as const) {
    const column = labels.get(role);
    if (column !== undefined && !hidden.includes(column)) labels.set(role, withoutCodedLabels(column, hidden));
  }
  return { ...columns, labels, notes: [...columns.notes, ...said] };
}

/** A column that is also the clusters' or the teams' is printed as theirs is, codes and all. */
function subgroupColumns(
  table: TextTable,
  chosen: ChosenColumns,
  missing: readonly string[],
  columns: ReadColumns,
  coded: ReadonlySet<string>,
): ReadLabels[] {
  return chosen.subgroups.flatMap((name) => {
    const same = [...columns.labels.values()].find((column) => column.name === name);
    if (same !== undefined && coded.has(name)) return [{ column: same, notes: [] }];
    const cells = cellsOf(table, name);
    if (cells === null) return [];
    const read = readLabels(cells, missing, true);
    const hidden = [...columns.labels.values()].filter((column) => coded.has(column.name));
    const printed = { ...read, column: withoutCodedLabels(read.column, hidden) };
    return [same === undefined ? printed : { ...printed, notes: [] }];
  });
}

/**
 * Turns a table of text into a survey: which column is what, units, codes, dates, missing codes. With settings that name columns,
 * those and no others are read; without, columns are guessed from their names. Throws InputError with every problem found
 * in one go.
 */
export function describe(whole: TextTable, given: SurveyFile | null, options: DescribeOptions = {}): Survey {
  const chosen = chooseColumns(whole, given);
  const { table, notes: emptyRows } = withoutEmptyRows(whole, usedNames(chosen));
  const oldest = given?.values.ages?.to ?? 59;
  const guessed = given?.values.columns === undefined;
  const { columns: clear, notes } = dropUnclear(readColumns(table, chosen.specs, oldest), guessed);
  const plain = setAsideTogether(clear);
  const survey = given === null ? null : withStrataNamed(given, plain.labels.get("stratum") ?? null);
  const columns = codeLabels(plain, survey, options.codes ?? []);
  const coded = new Set(
    [...columns.labels].filter(([role, column]) => plain.labels.get(role) !== column).map(([, column]) => column.name),
  );
  const place = (role: "cluster" | "stratum" | "household") => columns.labels.get(role) ?? null;
  const places = { cluster: place("cluster"), stratum: place("stratum"), household: place("household") };
  const own = plain.clustersIn;
  const listed =
    own === null ? places : { ...places, stratum: places.stratum ?? own.within, clusterAsListed: own.cluster };
  const planned = samplePlan(survey, options.clusterList ?? null, listed);
  const inColumns = [
    ...columnProblems(columns),
    ...stratumProblems(survey, columns),
    ...populationProblems(survey, columns),
    ...planned.problems,
  ];
  const personal = personalColumns(table, chosen.specs, chosen.subgroups);
  const problems = [...chosen.problems, ...personal, ...crossCheck(table, columns, options.today, inColumns)];
  if (problems.length > 0) throw new InputError(problems);
  const subgroups = subgroupColumns(table, chosen, codeTexts(survey?.values["missing-codes"]), columns, coded);
  const byColumns = positionFromColumns(table, chosen.specs);
  const interview = interviewDays(columns);
  const entry = columns.dates.get("entry-time");
  const said = [
    ...chosen.notes,
    ...emptyRows,
    ...notes,
    ...interview.notes,
    ...understood(table, columns, chosen),
    ...columns.notes,
    ...(byColumns === null ? [] : [byColumns.note]),
    ...subgroups.flatMap((read) => read.notes),
    ...weightNotes(survey, columns),
    ...planned.notes,
  ];
  const codeOf = (role: CodingRole, missing: number): Uint8Array | null => {
    const read = columns.codes.get(role);
    return read === undefined ? null : withMissing(read, missing);
  };
  const known = columns.codes.get("age-known-how");
  return {
    settings: makeSettings(table, survey, chosen, said),
    file: table.file,
    rowCount: table.rowCount,
    sheetRow: table.sheetRow,
    sex: codeOf("sex", 0) ?? new Uint8Array(table.rowCount),
    interviewDay: interview.days,
    entryTime: entry === undefined ? null : entryTimes(entry),
    birthDay: columns.dates.get("birth-date")?.days ?? null,
    ageSetAside: agesSetAside(columns),
    ageMonths: columns.ageMonths?.values ?? null,
    ageKnownHow: known === undefined ? null : ageKnownHow(known),
    weight: columns.measures.get("weight")?.column ?? null,
    height: columns.measures.get("height")?.column ?? null,
    arm: columns.measures.get("arm-circumference")?.column ?? null,
    head: columns.measures.get("head-circumference")?.column ?? null,
    position: byColumns === null ? codeOf("position", 0) : byColumns.position,
    oedema: codeOf("oedema", 2),
    cluster: places.cluster,
    stratum: places.stratum,
    area: columns.labels.get("area") ?? null,
    team: columns.labels.get("team") ?? null,
    household: places.household,
    samplingWeight: columns.samplingWeight?.values ?? null,
    subgroups: subgroups.map(({ column }) => column),
    unread: unreadColumns(table, chosen, places),
    plan: planned.plan,
  };
}
