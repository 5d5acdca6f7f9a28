import type { TextTable } from "../read/table.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { isThere, missingNeeds } from "./choose-columns.js";
import { draftRole, open, type RoleDraft, scalar } from "./draft-role.js";
import { type Guesses, guessRoles, hasAge, isFilled, type RoleGuess, type RoleQuestion } from "./guess.js";
import { defaults, slug } from "./make-settings.js";
import type { ProblemKind } from "./problems.js";
import { columnProblems, readColumns } from "./read-columns.js";
import { dispensableRoles, type Role, type RoleSpec, roles } from "./roles.js";
import { showValue } from "./show-value.js";

/** Puts a message into the words of a language. */
export type Say = (message: Message) => string;

/** Comment lines; a sentence that holds a line break stays on one line. */
function comment(say: Say, text: Message, indent: string): string {
  return `${indent}# ${say(text).replace(/\s*[\r\n\u2028\u2029]+\s*/g, " ")}`;
}

function samplesText(samples: readonly string[]): Message[] {
  return samples.length === 0
    ? [message("input.draft.no-values")]
    : [message("input.draft.samples", { samples: [...samples] })];
}

function guessLines(guess: RoleGuess, drafted: RoleDraft, say: Say): string[] {
  const comments = [guess.reason, ...samplesText(guess.samples), ...drafted.comments];
  const lines = comments.map((text) => comment(say, text, "  "));
  if (drafted.keys.length === 0) return [...lines, `  ${guess.role}: ${scalar(guess.column)}`];
  const keys = [`column: ${scalar(guess.column)}`, ...drafted.keys];
  return [...lines, `  ${guess.role}:`, ...keys.map((key) => `    ${key}`)];
}

/** A question about which column it is. One that a report can do without is written as a comment. */
function questionLines(question: RoleQuestion, needed: boolean, say: Say): string[] {
  const { role, candidates, from } = question;
  const lines = [comment(say, message(`input.draft.which.${from}`, { role: message(`input.role.${role}`) }), "  ")];
  for (const { column, samples } of candidates) {
    lines.push(
      comment(say, message("input.draft.candidate", { column: showValue(column), samples: [...samples] }), "  "),
    );
  }
  if (needed) return [...lines, `  ${role}: ${open}`];
  return [...lines, comment(say, message("input.draft.optional"), "  "), `  # ${role}: ${open}`];
}

/** Roles that the draft has to ask for although no column suggests itself. */
function rolesWanted(guesses: Guesses, table: TextTable): Set<Role> {
  const named = new Set(guesses.questions.filter(({ from }) => from === "names").map(({ role }) => role));
  const needs = missingNeeds((role) => isThere(role, guesses.guesses) || named.has(role), table, []);
  const roleOf: Partial<Record<ProblemKind, readonly Role[]>> = {
    "role-missing": ["sex"],
    "measure-missing": ["weight", "height"],
    "age-missing": ["birth-date"],
  };
  return new Set([...needs.flatMap((problem) => roleOf[problem.kind] ?? []), ...ageWanted(guesses)]);
}

/**
 * Roles to ask for where no age is known but a column may hold one: without the question a report would come out that
 * lacks every figure by age, although the data have it.
 */
function ageWanted({ guesses, questions }: Guesses): Role[] {
  if (hasAge(guesses)) return [];
  const suggested = questions.filter(({ from }) => from !== "names").map(({ role }) => role);
  const dates = isFilled("birth-date", guesses) ? ["interview-date"] : ["birth-date"];
  return suggested.filter((role) => role === "age-months" || dates.includes(role));
}

function columnLines(table: TextTable, guesses: Guesses, say: Say): string[] {
  const specs = new Map<Role, RoleSpec>();
  for (const { role, column } of guesses.guesses.values()) specs.set(role, { column, missing: [] });
  const columns = readColumns(table, specs, defaults.ageRange.to);
  const problems = columnProblems(columns);
  const wanted = rolesWanted(guesses, table);
  return roles.flatMap((role) => {
    const guess = guesses.guesses.get(role);
    const question = guesses.questions.find((candidate) => candidate.role === role);
    if (guess !== undefined) {
      const own = problems.filter((problem) => problem.column === guess.column);
      const lines = guessLines(guess, draftRole(role, columns, own), say);
      const spare = dispensableRoles.has(role) && own.length > 0;
      return spare ? lines.map((line) => (line.startsWith("  #") ? line : `  #${line.slice(1)}`)) : lines;
    }
    if (question !== undefined) {
      const needed = wanted.has(role) || (question.from === "names" && !dispensableRoles.has(role));
      return questionLines(question, needed, say);
    }
    if (!wanted.has(role)) return [];
    return [
      comment(say, message("input.draft.not-found", { role: message(`input.role.${role}`) }), "  "),
      `  ${role}: ${open}`,
    ];
  });
}

/** Says that no age was found, where nothing is asked about it either. */
function noAgeLines(guesses: Guesses, columns: readonly string[], say: Say): string[] {
  const asked = columns.some((line) => /^ {2}(?:birth-date|interview-date|age-months): "\?"$/.test(line));
  return hasAge(guesses.guesses) || asked ? [] : [comment(say, message("input.draft.no-age"), "  ")];
}

/** The settings that are not about columns, with their defaults, each with a line on what it does. */
function otherLines(guesses: Guesses, say: Say): string[] {
  const { ageRange, exclusions, positionRule, expectations } = defaults;
  const block = (id: string, lines: readonly string[]): string[] => [
    "",
    comment(say, message(`input.draft.key.${id}`), ""),
    ...lines,
  ];
  return [
    ...block("subgroups", ["# subgroups: []"]),
    ...(isFilled("age-months", guesses.guesses) ? block("age-in-months", ["age-in-months: completed"]) : []),
    ...block("ages", ["ages:", `  from: ${ageRange.from}`, `  to: ${ageRange.to}`]),
    ...block("position-rule", [`position-rule: ${positionRule}`]),
    ...block("exclusions", [
      "exclusions:",
      `  default: ${exclusions.default}`,
      `  width-around-mean: ${exclusions.widthAroundMean}`,
    ]),
    ...block("expectations", [
      "# expectations:",
      `#   boys-per-girl: ${expectations.boysPerGirl}`,
      `#   under-five-mortality: ${expectations.underFiveMortality}`,
      `#   growth-of-births: ${expectations.growthOfBirths}`,
    ]),
    ...block("clusters-in-population", ["# clusters-in-population:", "#   stratum: 100"]),
    ...block("missing-codes", ["# missing-codes: []"]),
  ];
}

function unreadLines(guesses: Guesses, say: Say): string[] {
  const lines: string[] = [];
  const add = (id: string, columns: readonly string[]): void => {
    if (columns.length > 0) lines.push("", comment(say, message(id, { columns: columns.map(showValue) }), ""));
  };
  add("input.draft.form-columns", guesses.formColumns);
  add("input.draft.other-columns", guesses.otherColumns);
  return lines;
}

/**
 * The text of a survey.yaml for a table: each guess with its reason and sample values, what was settled from the values written
 * out, and a question mark wherever the user has to decide; the schema refuses the file until each is replaced.
 */
export function draft(table: TextTable, say: Say): string {
  const guesses = guessRoles(table);
  const columns = columnLines(table, guesses, say);
  const questions = columns.filter((line) => !/^\s*#/.test(line) && line.endsWith(open)).length;
  const base = table.file.replace(/\.[A-Za-z0-9]{1,5}$/, "");
  return [
    comment(say, message("input.draft.intro", { file: showValue(table.file), rows: table.rowCount }), ""),
    comment(say, message(questions === 0 ? "input.draft.no-questions" : "input.draft.questions", { questions }), ""),
    "",
    `title: ${scalar(base)}`,
    `name: ${scalar(slug(base) || "survey")}`,
    `data: ${scalar(table.file)}`,
    "",
    comment(say, message("input.draft.columns"), ""),
    "columns:",
    ...columns,
    ...noAgeLines(guesses, columns, say),
    ...otherLines(guesses, say),
    ...unreadLines(guesses, say),
    "",
  ].join("\n");
}
