import type { RowToCheck } from "./checks/check.js";
import { suggestionsFor } from "./checks/implausible-values/row-suggestions.js";
import type { Suspects } from "./checks/implausible-values/suspects.js";
import { asWritten } from "./columns/set-aside.js";
import type { Survey } from "./columns/survey.js";
import { type Ages, agesOf, withinMonths } from "./derive/age.js";
import type { Children } from "./derive/children.js";
import type { TextTable } from "./read/table.js";
import type { CodeForTeam, RowForFollowUp } from "./results/internal-lists.js";
import { message } from "./results/message.js";
import type { Message } from "./results/schema.js";
import { measureRoles } from "./settings/roles.js";
import type { SurveySettings } from "./settings/settings.js";
import { showValue } from "./settings/show-value.js";
import type { SurveyFile } from "./settings/survey-file.js";

/** The rows that one check, or what left a row out, wants looked at. */
export interface RowsFound {
  /** Name of the check, in words. */
  readonly check: Message;
  readonly rows: readonly RowToCheck[];
}

/** Rows of the file as records to look for a slip in. */
function suspectsIn(survey: Survey, { days, source }: Ages, rows: readonly number[]): Suspects {
  const numbers = (column: Float64Array | null | undefined): Float64Array =>
    Float64Array.from(rows, (row) => column?.[row] ?? Number.NaN);
  const codes = (column: Uint8Array | null): Uint8Array => Uint8Array.from(rows, (row) => column?.[row] ?? 0);
  const measure = (column: Survey["weight"]): Float64Array | null => (column === null ? null : numbers(column.values));
  return {
    sex: codes(survey.sex),
    ageDays: numbers(days),
    weight: measure(survey.weight),
    height: measure(survey.height),
    arm: measure(survey.arm),
    head: measure(survey.head),
    position: survey.position === null ? null : codes(survey.position),
    oedema: survey.oedema === null ? null : codes(survey.oedema),
    widthAroundMean: survey.settings.exclusions.widthAroundMean,
    ageSource: codes(source),
    birthDay: numbers(survey.birthDay),
    interviewDay: numbers(survey.interviewDay),
  };
}

/**
 * Rows left out for their age that one slip would explain, such as an age in days. Ages outside the range are otherwise
 * nothing unusual, and those rows are not listed.
 */
export function rowsLeftOut(survey: Survey, children: Children): RowsFound {
  const { from, to } = survey.settings.ageRange;
  const rows: number[] = [];
  const ages = agesOf(survey);
  ages.days.forEach((age, row) => {
    if (!Number.isNaN(age) && !withinMonths(age, from, to)) rows.push(row);
  });
  const suggestions = suggestionsFor(suspectsIn(survey, ages, rows), children, survey.settings);
  const found = rows.flatMap((row, i): RowToCheck[] => {
    const suggestion = suggestions[i] ?? null;
    if (suggestion === null) return [];
    const said = message("rows-to-check.left-out");
    return [{ sheetRow: survey.sheetRow[row] as number, columns: [], byAge: true, message: said, suggestion }];
  });
  return { check: message("rows-to-check.left-out.title"), rows: found };
}

const isSetAside = (column: Float64Array | null | undefined, row: number): boolean =>
  column != null && !Number.isNaN(column[row] as number);

/**
 * Rows of children with a value outside what is possible, which counts as not measured: the columns concerned, and what may
 * have gone wrong where one slip explains it all.
 */
export function rowsSetAside(survey: Survey, children: Children): RowsFound {
  const measures = [survey.weight, survey.height, survey.arm, survey.head].flatMap((column) =>
    column?.setAside == null ? [] : [column],
  );
  const check = message("rows-to-check.set-aside.title");
  if (measures.length === 0 && survey.ageSetAside == null) return { check, rows: [] };
  const concerned = (row: number): string[] =>
    measures.filter(({ setAside }) => isSetAside(setAside, row)).map(({ name }) => name);
  const byAge = (row: number): boolean =>
    isSetAside(survey.ageSetAside?.birthDay, row) || isSetAside(survey.ageSetAside?.ageMonths, row);
  const kept = new Set(children.sheetRow);
  const rows = Array.from(survey.sheetRow, (_, row) => row).filter(
    (row) => kept.has(survey.sheetRow[row] as number) && (concerned(row).length > 0 || byAge(row)),
  );
  const written = asWritten(survey);
  const suggestions = suggestionsFor(suspectsIn(written, agesOf(written), rows), children, survey.settings);
  const found = rows.map((row, i): RowToCheck => {
    const columns = concerned(row);
    const said = message("rows-to-check.set-aside", { count: columns.length + (byAge(row) ? 1 : 0) });
    const base = { sheetRow: survey.sheetRow[row] as number, columns, byAge: byAge(row), message: said };
    const suggestion = suggestions[i] ?? null;
    return suggestion === null ? base : { ...base, suggestion };
  });
  return { check, rows: found };
}

/** The labels of clusters and teams for which codes were asked for, with their codes, in the codes' order. */
export function codeList({ cluster, team, settings }: Survey): CodeForTeam[] {
  const columns = [
    ["cluster", "clusters", cluster],
    ["team", "teams", team],
  ] as const;
  return columns.flatMap(([role, group, column]) => {
    const asked = settings.notes.some(({ id, values }) => id === "input.note.labels-coded" && values.group === group);
    if (column === null || !asked) return [];
    return column.labels
      .map((label, at) => ({ role, label: showValue(label), code: column.publicLabels[at] ?? "" }))
      .sort((a, b) => (a.code < b.code ? -1 : 1));
  });
}

const ageRoles = ["birth-date", "interview-date", "age-months"] as const;

/** Looks up what stands in the file. */
class FileRows {
  readonly #rowOf: ReadonlyMap<number, number>;
  readonly #columns: ReadonlyMap<string, TextTable["columns"][number]>;

  constructor(table: TextTable) {
    this.#rowOf = new Map(Array.from(table.sheetRow, (sheetRow, row) => [sheetRow, row] as const));
    this.#columns = new Map(table.columns.map((column) => [column.name, column] as const));
  }

  /** The cell's text; empty where there is none. */
  text(sheetRow: number, name: string): string {
    const column = this.#columns.get(name);
    const row = this.#rowOf.get(sheetRow);
    return column === undefined || row === undefined ? "" : (column.values[column.codes[row] ?? 0] ?? "");
  }
}

/** The columns that a role is read from: the second where the first is empty. */
function columnsOf(settings: SurveySettings, role: string): readonly string[] {
  const names = settings.columns[role] ?? [];
  return typeof names === "string" ? [names] : names;
}

/**
 * The rows for the survey team: what each check found, with the texts as they stand in the file. Household and child are
 * given only where the settings file names their columns, never where they were found by name.
 */
export function rowList(
  found: readonly RowsFound[],
  table: TextTable,
  settings: SurveySettings,
  surveyFile: SurveyFile | null,
): RowForFollowUp[] {
  if (found.every(({ rows }) => rows.length === 0)) return [];
  const file = new FileRows(table);
  const named = (role: "household" | "child"): readonly string[] =>
    surveyFile?.values.columns?.[role] === undefined ? [] : columnsOf(settings, role);
  const places = { cluster: columnsOf(settings, "cluster"), household: named("household"), child: named("child") };
  const ages = ageRoles.flatMap((role) => columnsOf(settings, role));
  const measures = new Map(measureRoles.map((role) => columnsOf(settings, role)).map((names) => [names[0], names]));
  return found.flatMap(({ check, rows }) =>
    [...rows]
      .sort((a, b) => a.sheetRow - b.sheetRow)
      .map(({ sheetRow, columns, byAge, message: said, suggestion }): RowForFollowUp => {
        const text = (name: string): string => file.text(sheetRow, name);
        const filled = (names: readonly string[]): string | undefined => names.find((name) => text(name) !== "");
        const place = (names: readonly string[]): string => text(filled(names) ?? "");
        const measured = columns.map((name) => filled(measures.get(name) ?? []) ?? name);
        const all = [...measured, ...(byAge === true ? ages.filter((name) => text(name) !== "") : [])];
        return {
          sheetRow,
          sheet: table.container?.table ?? "",
          cluster: place(places.cluster),
          household: place(places.household),
          child: place(places.child),
          columns: all,
          values: all.map(text),
          check,
          message: said,
          suggestion: suggestion ?? null,
        };
      }),
  );
}
