import type { ReadOptions } from "../read/options.js";
import { shareOfPercentage } from "../results/main-estimates.js";
import { closest } from "./closest.js";
import { type InputProblem, inputProblem } from "./problems.js";
import { allColumnsOf, columnsOf } from "./role-columns.js";
import { type Role, type RoleSpec, roles } from "./roles.js";
import { type Path, parseSettings, type SettingsFile } from "./settings-file.js";
import { type SurveyFileValues, surveyFileJsonSchema, surveyFileSchema } from "./survey-schema.js";

/** A survey.yaml that has passed the schema. */
export type SurveyFile = SettingsFile<SurveyFileValues>;

/** Reads the text of a survey.yaml. Throws InputError with every problem, each with its line. */
export function parseSurveyFile(text: string, file: string): SurveyFile {
  return parseSettings(text, file, {
    schema: surveyFileSchema,
    jsonSchema: surveyFileJsonSchema,
    cross: crossProblems,
  });
}

/** What no single value can show: ages in reverse, a code with two meanings, a column with two roles. */
function crossProblems(values: SurveyFileValues, lineOf: SurveyFile["lineOf"], file: string): InputProblem[] {
  const problems: InputProblem[] = [];
  const { from = 0, to = 59 } = values.ages ?? {};
  if (from > to) {
    problems.push(inputProblem("settings-ages-reversed", file, { line: lineOf(["ages"]) ?? 1, details: { from, to } }));
  }
  problems.push(...decisionProblems(values, lineOf, file));
  const roleOf = new Map<string, Role>();
  for (const [role, spec] of roleSpecs(values)) {
    const line = lineOf(["columns", role]) ?? 1;
    for (const column of columnsOf(spec)) {
      const other = roleOf.get(column);
      roleOf.set(column, other ?? role);
      if (other === undefined) continue;
      const details = { first: other, second: role };
      problems.push(inputProblem("settings-column-twice", file, { line, value: column, details }));
    }
    const all = Object.values(spec.codes ?? {}).flat();
    const twice = all.find((code, i) => all.indexOf(code) !== i);
    if (twice !== undefined) problems.push(inputProblem("settings-code-twice", file, { line, value: twice }));
  }
  return problems;
}

/** Limits that are no percentages, or given twice for one estimate. */
function decisionProblems(values: SurveyFileValues, lineOf: SurveyFile["lineOf"], file: string): InputProblem[] {
  const seen = new Set<string>();
  return (values.decision ?? []).flatMap(({ estimate, limit }, at) => {
    const line = lineOf(["decision", at, "limit"]) ?? lineOf(["decision"]) ?? 1;
    const share = shareOfPercentage(String(limit));
    if (share === null) return [inputProblem("settings-decision-limit", file, { line, value: String(limit) })];
    const key = `${estimate} ${share}`;
    if (seen.has(key)) return [inputProblem("settings-decision-twice", file, { line, value: String(limit) })];
    seen.add(key);
    return [];
  });
}

type CodeList = SurveyFileValues["missing-codes"];

/** Codes as texts. */
export function codeTexts(codes: CodeList): string[] {
  if (codes === undefined) return [];
  return (Array.isArray(codes) ? codes : [codes]).map((code) => String(code).trim());
}

/** Settings of a role's mapping, as far as the role has them. */
interface RoleMapping {
  readonly column?: string | undefined;
  readonly options?: Readonly<Record<string, string | string[] | undefined>> | undefined;
  readonly missing?: CodeList;
  readonly unit?: string | undefined;
  readonly decimal?: "point" | "comma" | undefined;
  readonly within?: string | undefined;
  readonly otherwise?: string | undefined;
  readonly "date-order"?: RoleSpec["dateOrder"] | undefined;
  readonly codes?: Readonly<Record<string, CodeList>> | undefined;
}

/** The columns of each answer, where a role is given by its answers. */
function optionsOf(options: NonNullable<RoleMapping["options"]>): Record<string, string[]> {
  return Object.fromEntries(Object.entries(options).map(([meaning, names]) => [meaning, [names ?? []].flat()]));
}

/** A name for a question of which only the answers' columns are there: what their names have in common. */
function questionName(columns: readonly string[]): string {
  const [first = ""] = columns;
  const length = [...first].findIndex((_, i) => columns.some((name) => name[i] !== first[i]));
  const common = first.slice(0, length < 0 ? first.length : length).replace(/[^/.:]*$/, "");
  return common.replace(/[/.:]$/, "") || first;
}

function specOf(mapping: RoleMapping, everywhere: readonly string[]): RoleSpec {
  const { unit, decimal, codes, within, otherwise } = mapping;
  const dateOrder = mapping["date-order"];
  const options = mapping.options === undefined ? undefined : optionsOf(mapping.options);
  const given = Object.entries(codes ?? {}).map(([meaning, list]) => [meaning, codeTexts(list)] as const);
  return {
    column: mapping.column ?? questionName(Object.values(options ?? {}).flat()),
    missing: [...everywhere, ...codeTexts(mapping.missing)],
    ...(options === undefined ? {} : { options }),
    ...(unit === undefined ? {} : { unit }),
    ...(decimal === undefined ? {} : { decimal }),
    ...(within === undefined ? {} : { within }),
    ...(otherwise === undefined ? {} : { otherwise }),
    ...(dateOrder === undefined ? {} : { dateOrder }),
    ...(codes === undefined ? {} : { codes: Object.fromEntries(given) }),
  };
}

/** How each role's column is to be read, in the order of the list of roles. */
export function roleSpecs(values: SurveyFileValues): Map<Role, RoleSpec> {
  const everywhere = codeTexts(values["missing-codes"]);
  const specs = new Map<Role, RoleSpec>();
  for (const role of roles) {
    const given = values.columns?.[role];
    if (given === undefined) continue;
    specs.set(role, specOf(typeof given === "string" ? { column: given } : given, everywhere));
  }
  return specs;
}

/** The data file that the settings name, as the settings give it, and how they say it is to be read. */
export function dataFileOf(survey: SurveyFile): DataFile {
  const { data } = survey.values;
  if (typeof data === "string") return { path: data };
  const { file, delimiter, encoding, sheet, joins } = data;
  return {
    path: file,
    ...(delimiter === undefined ? {} : { delimiter }),
    ...(encoding === undefined ? {} : { encoding }),
    ...(sheet === undefined ? {} : { sheet }),
    ...(joins === undefined ? {} : { joins: joins.map((join) => ({ ...join, parentKey: join["parent-key"] })) }),
  };
}

/** A data file, and what the settings say of how to read it. */
export type DataFile = { readonly path: string } & Pick<ReadOptions, "delimiter" | "encoding" | "sheet" | "joins">;

/** The columns that the settings name, the only ones that have to be read; null when they are to be guessed. */
export function namedColumns(survey: SurveyFile): ReadonlySet<string> | null {
  if (survey.values.columns === undefined) return null;
  const inRoles = [...roleSpecs(survey.values).values()].flatMap(allColumnsOf);
  return new Set([...inRoles, ...(survey.values.subgroups ?? [])]);
}

/** The file with the list of clusters, and its columns to be read; null when the settings name none. */
export function clusterListOf(survey: SurveyFile): {
  readonly path: string;
  readonly delimiter?: "," | ";" | "\t" | "|";
  readonly columns: ReadonlySet<string>;
} | null {
  const { clusters } = survey.values;
  if (clusters === undefined) return null;
  const { file, delimiter, columns } = clusters;
  const names = Object.values(columns).filter((name) => name !== undefined);
  return { path: file, ...(delimiter === undefined ? {} : { delimiter }), columns: new Set(names) };
}

/** A problem for a column that the settings name and the data do not have. */
export function columnNotFound(survey: SurveyFile, path: Path, column: string, names: readonly string[]): InputProblem {
  const suggestion = closest(column, names) ?? "none";
  const line = survey.lineOf(path);
  return inputProblem("column-not-found", survey.file, {
    ...(line === undefined ? {} : { line }),
    value: column,
    details: { suggestion },
  });
}
