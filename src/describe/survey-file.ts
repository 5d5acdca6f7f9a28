import { isMap, isScalar, LineCounter, parseDocument, visit } from "yaml";
import { closest } from "./closest.js";
import { InputError, type InputProblem, inputProblem } from "./problems.js";
import { type Role, type RoleSpec, roles } from "./roles.js";
import { settingsProblems } from "./settings-problems.js";
import { type SurveyFileValues, surveyFileSchema } from "./survey-schema.js";

/** The value that the draft writes where the user has to decide; no schema accepts it. */
export const unanswered = "?";

/** A survey.yaml that has passed the schema. */
export interface SurveyFile {
  /** Its file name, for messages. */
  readonly file: string;
  readonly values: SurveyFileValues;
  /** Line of a key, for messages about the data that are settled in the settings. */
  lineOf(path: readonly (string | number)[]): number | undefined;
}

type YamlDocument = ReturnType<typeof parseDocument>;
export type Path = readonly (string | number)[];

/** The line on which a value stands, or the nearest key above it that exists. */
function lineFinder(document: YamlDocument, lines: LineCounter): (path: Path) => number | undefined {
  return (path) => {
    for (let length = path.length; length >= 0; length--) {
      const parent = document.getIn(path.slice(0, Math.max(0, length - 1)), true);
      const wanted = path[length - 1];
      if (isMap(parent) && length > 0) {
        const pair = parent.items.find((item) => isScalar(item.key) && String(item.key.value) === String(wanted));
        if (isScalar(pair?.key) && pair.key.range) return lines.linePos(pair.key.range[0]).line;
      }
      const node = length === 0 ? document.contents : document.getIn(path.slice(0, length), true);
      const range =
        typeof node === "object" && node !== null && "range" in node ? (node.range as number[] | null) : null;
      if (range) return lines.linePos(range[0] ?? 0).line;
    }
    return undefined;
  };
}

/** Every place where the draft's question mark still stands. */
function unansweredProblems(document: YamlDocument, lines: LineCounter, file: string): InputProblem[] {
  const problems: InputProblem[] = [];
  visit(document, {
    Scalar(place, node, ancestors) {
      if (place === "key" || node.value !== unanswered) return;
      const keys = ancestors.flatMap((ancestor) =>
        typeof ancestor === "object" && "key" in ancestor && isScalar(ancestor.key) ? [String(ancestor.key.value)] : [],
      );
      const line = lines.linePos(node.range?.[0] ?? 0).line;
      problems.push(inputProblem("settings-unanswered", file, { line, value: keys.join(" > ") }));
    },
  });
  return problems;
}

function syntaxProblems(document: YamlDocument, lines: LineCounter, file: string): InputProblem[] {
  return document.errors.map((error) =>
    inputProblem("settings-syntax", file, { line: lines.linePos(error.pos[0]).line, value: error.code }),
  );
}

/**
 * Reads the text of a survey.yaml. Throws InputError with every problem, each with its line: broken YAML, questions of
 * the draft left open, keys and values that the schema does not know.
 */
export function parseSurveyFile(text: string, file: string): SurveyFile {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  if (document.errors.length > 0) throw new InputError(syntaxProblems(document, lines, file));
  const lineOf = lineFinder(document, lines);
  const open = unansweredProblems(document, lines, file);
  const openLines = new Set(open.map((problem) => problem.line));
  const raw: unknown = plainValue(document, file);
  const parsed = surveyFileSchema.safeParse(raw);
  const found = parsed.success
    ? crossProblems(parsed.data, lineOf, file)
    : settingsProblems(parsed.error, raw, lineOf, file);
  const problems = [...open, ...found.filter((problem) => !openLines.has(problem.line))];
  if (problems.length > 0 || !parsed.success) throw new InputError(problems);
  return { file, values: parsed.data, lineOf };
}

/** The document as plain data. Aliases that unfold without end are refused. */
function plainValue(document: YamlDocument, file: string): unknown {
  try {
    return document.toJS();
  } catch {
    throw new InputError([inputProblem("settings-syntax", file, { line: 1, value: "ALIASES" })]);
  }
}

/** What no single value can show: ages in reverse, a code with two meanings, a column with two roles. */
function crossProblems(values: SurveyFileValues, lineOf: SurveyFile["lineOf"], file: string): InputProblem[] {
  const problems: InputProblem[] = [];
  const { from = 0, to = 59 } = values.ages ?? {};
  if (from > to) {
    problems.push(inputProblem("settings-ages-reversed", file, { line: lineOf(["ages"]) ?? 1, details: { from, to } }));
  }
  const roleOf = new Map<string, Role>();
  for (const [role, spec] of roleSpecs(values)) {
    const line = lineOf(["columns", role]) ?? 1;
    const other = roleOf.get(spec.column);
    if (other === undefined) roleOf.set(spec.column, role);
    else {
      const details = { first: other, second: role };
      problems.push(inputProblem("settings-column-twice", file, { line, value: spec.column, details }));
    }
    const all = Object.values(spec.codes ?? {}).flat();
    const twice = all.find((code, i) => all.indexOf(code) !== i);
    if (twice !== undefined) problems.push(inputProblem("settings-code-twice", file, { line, value: twice }));
  }
  return problems;
}

type CodeList = SurveyFileValues["missing-codes"];

/** Codes as texts. */
export function codeTexts(codes: CodeList): string[] {
  if (codes === undefined) return [];
  return (Array.isArray(codes) ? codes : [codes]).map((code) => String(code).trim());
}

/** Settings of a role's mapping, as far as the role has them. */
interface RoleMapping {
  readonly column: string;
  readonly missing?: CodeList;
  readonly unit?: string | undefined;
  readonly decimal?: "point" | "comma" | undefined;
  readonly "date-order"?: RoleSpec["dateOrder"] | undefined;
  readonly codes?: Readonly<Record<string, CodeList>> | undefined;
}

function specOf(mapping: RoleMapping, everywhere: readonly string[]): RoleSpec {
  const { unit, decimal, codes } = mapping;
  const dateOrder = mapping["date-order"];
  const given = Object.entries(codes ?? {}).map(([meaning, list]) => [meaning, codeTexts(list)] as const);
  return {
    column: mapping.column,
    missing: [...everywhere, ...codeTexts(mapping.missing)],
    ...(unit === undefined ? {} : { unit }),
    ...(decimal === undefined ? {} : { decimal }),
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

/** The data file that the settings name, as the settings give it, and its delimiter if they state one. */
export function dataFileOf(survey: SurveyFile): { readonly path: string; readonly delimiter?: "," | ";" | "\t" | "|" } {
  const { data } = survey.values;
  if (typeof data === "string") return { path: data };
  return { path: data.file, ...(data.delimiter === undefined ? {} : { delimiter: data.delimiter }) };
}

/** The columns that the settings name, the only ones that have to be read; null when they are to be guessed. */
export function namedColumns(survey: SurveyFile): ReadonlySet<string> | null {
  if (survey.values.columns === undefined) return null;
  const inRoles = [...roleSpecs(survey.values).values()].map((spec) => spec.column);
  return new Set([...inRoles, ...(survey.values.subgroups ?? [])]);
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
