import { parseNumber } from "../columns/numbers.js";
import type { TextTable } from "../read/table.js";
import type { ChosenColumns } from "../settings/chosen-columns.js";
import { type Note, note } from "../settings/notes.js";
import { type InputProblem, inputProblem } from "../settings/problems.js";
import { allColumnsOf } from "../settings/role-columns.js";
import { dispensableRoles, measureRoles, type Role, type RoleSpec } from "../settings/roles.js";
import { codeTexts, columnNotFound, roleSpecs, type SurveyFile } from "../settings/survey-file.js";
import { type Guesses, guessRoles, hasAge, isFilled, type RoleQuestion, specOfGuess } from "./guess.js";

/** What a report cannot do without: sex, a measure, and an age unless weight and height are both there. */
export function missingNeeds(
  has: (role: Role) => boolean,
  table: TextTable,
  questions: readonly RoleQuestion[],
): InputProblem[] {
  const problems: InputProblem[] = [];
  const candidates = (role: Role): string[] =>
    questions.find((question) => question.role === role)?.candidates.map(({ column }) => column) ?? [];
  const columns = table.columns.map((column) => column.name);
  if (!has("sex")) {
    problems.push(
      inputProblem("role-missing", table.file, { details: { role: "sex", columns, candidates: candidates("sex") } }),
    );
  }
  if (!measureRoles.some(has)) {
    const listed = [...candidates("weight"), ...candidates("height")];
    problems.push(
      inputProblem("measure-missing", table.file, { details: { columns, candidates: [...new Set(listed)] } }),
    );
  }
  const dated = has("birth-date") && (has("interview-date") || has("entry-time"));
  if (!dated && !has("age-months") && !(has("weight") && has("height"))) {
    problems.push(
      inputProblem("age-missing", table.file, { details: { columns, candidates: candidates("birth-date") } }),
    );
  }
  return problems;
}

function fromSettings(table: TextTable, survey: SurveyFile): ChosenColumns {
  const names = table.columns.map((column) => column.name);
  const specs = roleSpecs(survey.values);
  const problems: InputProblem[] = [];
  for (const [role, spec] of specs) {
    for (const column of allColumnsOf(spec)) {
      if (!names.includes(column)) problems.push(columnNotFound(survey, ["columns", role], column, names));
    }
  }
  const subgroups = survey.values.subgroups ?? [];
  subgroups.forEach((column, i) => {
    if (!names.includes(column)) problems.push(columnNotFound(survey, ["subgroups", i], column, names));
  });
  if (problems.length === 0) problems.push(...missingNeeds((role) => specs.has(role), table, []));
  return { specs, subgroups, problems, notes: [] };
}

/** Roles of which an empty column is as good as none: the age may then stand in another. */
const ageRoles: ReadonlySet<Role> = new Set<Role>(["interview-date", "birth-date", "age-months", "entry-time"]);

/** True where a role's column was found; one for the age must hold something. */
export function isThere(role: Role, guesses: Guesses["guesses"]): boolean {
  return ageRoles.has(role) ? isFilled(role, guesses) : guesses.has(role);
}

/** An age that the data may hold in a column whose name does not say so: to be decided, since a report without ages lacks half its figures. */
function ageProblems(table: TextTable, { guesses, questions }: Guesses): InputProblem[] {
  if (hasAge(guesses)) return [];
  const years = questions.find(({ from }) => from === "years");
  const [column] = years?.candidates.map((candidate) => candidate.column) ?? [];
  if (column !== undefined) {
    const texts = table.columns.find(({ name }) => name === column)?.values ?? [];
    const highest = Math.max(...texts.map(parseNumber).filter((value) => !Number.isNaN(value)));
    return [inputProblem("age-in-years", table.file, { column, details: { highest } })];
  }
  const dates = questions.filter(({ role, from }) => from === "values" && ageRoles.has(role));
  if (dates.length === 0) return [];
  const columns = table.columns.map(({ name }) => name);
  const candidates = [
    ...new Set(dates.flatMap((question) => question.candidates.map((candidate) => candidate.column))),
  ];
  return [inputProblem("age-missing", table.file, { details: { columns, candidates } })];
}

/** The columns guessed from their names; what is needed and unclear is a problem, what can be spared is left out with a note. */
function fromNames(table: TextTable, missingCodes: readonly string[]): Omit<ChosenColumns, "subgroups"> {
  const guessed = guessRoles(table);
  const { guesses, questions } = guessed;
  const specs = new Map<Role, RoleSpec>();
  for (const guess of guesses.values()) specs.set(guess.role, specOfGuess(guess, missingCodes));
  const problems: InputProblem[] = [];
  const notes: Note[] = [note("columns-guessed", { count: specs.size })];
  for (const { role, candidates, from } of questions) {
    if (from !== "names") continue;
    const columns = candidates.map((candidate) => candidate.column);
    if (dispensableRoles.has(role)) notes.push(note("role-left-out", { role, candidates: columns.length }));
    else problems.push(inputProblem("role-unclear", table.file, { details: { role, candidates: columns } }));
  }
  const unclear = new Set(questions.filter(({ from }) => from === "names").map(({ role }) => role));
  const needs = missingNeeds((role) => isThere(role, guesses) || unclear.has(role), table, questions);
  const age = ageProblems(table, guessed);
  problems.push(...needs.filter(({ kind }) => kind !== "age-missing" || age.length === 0), ...age);
  return { specs, problems, notes };
}

/**
 * Which column is read for what: as the settings say, and nothing else; where the settings name no column, or there are
 * none, as the columns' names say.
 */
export function chooseColumns(table: TextTable, survey: SurveyFile | null): ChosenColumns {
  if (survey?.values.columns !== undefined) return fromSettings(table, survey);
  const guessed = fromNames(table, codeTexts(survey?.values["missing-codes"]));
  const names = table.columns.map((column) => column.name);
  const subgroups = survey?.values.subgroups ?? [];
  const unknown = subgroups.flatMap((column, i) =>
    survey === null || names.includes(column) ? [] : [columnNotFound(survey, ["subgroups", i], column, names)],
  );
  return { ...guessed, subgroups, problems: [...guessed.problems, ...unknown] };
}
