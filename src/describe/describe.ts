import type { TextTable } from "../read/table.js";
import { cellsOf, spreadCodes } from "./cells.js";
import { type ChosenColumns, chooseColumns } from "./choose-columns.js";
import type { ReadCodes } from "./coded.js";
import { crossCheck } from "./cross-checks.js";
import { readLabels } from "./labels.js";
import { makeSettings } from "./make-settings.js";
import { type Note, note } from "./notes.js";
import { InputError, type InputProblem, inputProblem } from "./problems.js";
import { columnProblems, type ReadColumns, readColumns } from "./read-columns.js";
import { type CodingRole, unusedRoles } from "./roles.js";
import type { CodedColumn, Survey } from "./survey.js";
import { codeTexts, type SurveyFile } from "./survey-file.js";

export interface DescribeOptions {
  /** Day of the run, days since 1970-01-01: later dates are a problem. Not looked at when absent. */
  readonly today?: number;
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
  if (table.encoding === "windows-1252") {
    // A word of the body may be a person's name: only a column's name is repeated.
    const word = table.encodingSample ?? "";
    const inHeader = word !== "" && table.columns.some((column) => column.name.includes(word));
    notes.push(inHeader ? note("encoding-assumed-word", { word }) : note("encoding-assumed"));
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
  const source = columns.codes.get("age-known-how");
  if (!guessed || source === undefined || source.problems.length === 0) return { columns, notes: [] };
  const codes = new Map([...columns.codes].filter(([role]) => role !== "age-known-how"));
  return { columns: { ...columns, codes }, notes: [note("role-left-out", { role: "age-known-how", candidates: 1 })] };
}

function stratumProblems(survey: SurveyFile | null, columns: ReadColumns): InputProblem[] {
  const given = survey?.values["clusters-in-population"];
  if (survey === null || given === undefined || typeof given === "number") return [];
  const labels = columns.labels.get("stratum")?.labels ?? [];
  const unknown = Object.keys(given).filter((label) => !labels.includes(label));
  return unknown.map((label) =>
    inputProblem("settings-stratum-unknown", survey.file, {
      line: survey.lineOf(["clusters-in-population", label]) ?? 1,
      value: label,
    }),
  );
}

function subgroupColumns(table: TextTable, chosen: ChosenColumns, missing: readonly string[]): CodedColumn[] {
  return chosen.subgroups.flatMap((name) => {
    const cells = cellsOf(table, name);
    return cells === null ? [] : [readLabels(cells, missing, true)];
  });
}

/**
 * Turns a table of text into a survey: which column is what, units, codes, dates, missing codes. With settings that name columns,
 * those and no others are read; without, columns are guessed from their names. Throws InputError with every problem found
 * in one go.
 */
export function describe(table: TextTable, survey: SurveyFile | null, options: DescribeOptions = {}): Survey {
  const chosen = chooseColumns(table, survey);
  const oldest = survey?.values.ages?.to ?? 59;
  const guessed = survey?.values.columns === undefined;
  const { columns, notes } = dropUnclear(readColumns(table, chosen.specs, oldest), guessed);
  const inColumns = [...columnProblems(columns), ...stratumProblems(survey, columns)];
  const problems = [...chosen.problems, ...crossCheck(table, columns, options.today, inColumns)];
  if (problems.length > 0) throw new InputError(problems);
  const said = [...chosen.notes, ...notes, ...understood(table, columns, chosen), ...columns.notes];
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
    interviewDay: columns.dates.get("interview-date")?.days ?? null,
    birthDay: columns.dates.get("birth-date")?.days ?? null,
    ageMonths: columns.ageMonths?.values ?? null,
    ageKnownHow: known === undefined ? null : ageKnownHow(known),
    weight: columns.measures.get("weight")?.column ?? null,
    height: columns.measures.get("height")?.column ?? null,
    arm: columns.measures.get("arm-circumference")?.column ?? null,
    head: columns.measures.get("head-circumference")?.column ?? null,
    position: codeOf("position", 0),
    oedema: codeOf("oedema", 2),
    cluster: columns.labels.get("cluster") ?? null,
    stratum: columns.labels.get("stratum") ?? null,
    area: columns.labels.get("area") ?? null,
    team: columns.labels.get("team") ?? null,
    household: columns.labels.get("household") ?? null,
    samplingWeight: columns.samplingWeight?.values ?? null,
    subgroups: subgroupColumns(table, chosen, codeTexts(survey?.values["missing-codes"])),
  };
}
