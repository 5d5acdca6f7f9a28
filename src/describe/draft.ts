import type { TextTable } from "../read/table.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { type Answers, answeredGuesses, answeredSpecs, noAnswers } from "./answers.js";
import { draftRole, list, open, type RoleDraft, scalar } from "./draft-role.js";
import { comment, otherLines, type Say, unreadLines } from "./draft-settings.js";
import { type Guesses, hasAge, type RoleGuess, type RoleQuestion } from "./guess.js";
import { defaults, slug } from "./make-settings.js";
import { columnProblems, readColumns } from "./read-columns.js";
import { dispensableRoles, namingRoles, type Role, roles } from "./roles.js";
import { setAsideNotes } from "./set-aside.js";
import { showValue } from "./show-value.js";
import { mustBeAnswered, rolesWanted } from "./wanted.js";

export type { Say } from "./draft-settings.js";

function samplesText({ role, samples }: RoleGuess): Message[] {
  if (samples.length > 0) return [message("input.draft.samples", { samples: [...samples] })];
  return [message(namingRoles.has(role) ? "input.draft.no-codes" : "input.draft.no-values")];
}

/** The 0/1 columns of a role's answers, in place of its column. */
function optionLines(options: NonNullable<RoleGuess["options"]>): string[] {
  const lines = Object.entries(options).map(([meaning, columns]) => `      ${meaning}: ${list(columns)}`);
  return ["    options:", ...lines];
}

function guessLines(guess: RoleGuess, drafted: RoleDraft, say: Say): string[] {
  const confidence = message(`input.draft.confidence.${guess.confidence}`);
  const comments = [guess.reason, confidence, ...samplesText(guess), ...drafted.comments];
  const lines = comments.map((text) => comment(say, text, "  "));
  if (guess.options !== undefined) return [...lines, `  ${guess.role}:`, ...optionLines(guess.options)];
  const otherwise = guess.otherwise === undefined ? [] : [`otherwise: ${scalar(guess.otherwise)}`];
  if (drafted.keys.length + otherwise.length === 0) return [...lines, `  ${guess.role}: ${scalar(guess.column)}`];
  const keys = [`column: ${scalar(guess.column)}`, ...otherwise, ...drafted.keys];
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

function columnLines(table: TextTable, guesses: Guesses, answers: Answers, say: Say): string[] {
  const specs = answeredSpecs(guesses, answers);
  const columns = readColumns(table, specs, defaults.ageRange.to);
  const problems = columnProblems(columns);
  const wanted = rolesWanted(guesses, table);
  const aside = setAsideNotes(columns);
  const asideOf = (role: Role): Message[] =>
    aside
      .filter(({ values }) => values.role === role)
      .map(({ id, values }) => message(id, { ...values, role: message(`input.role.${role}`) }));
  return roles.flatMap((role) => {
    const guess = guesses.guesses.get(role);
    const question = guesses.questions.find((candidate) => candidate.role === role);
    if (guess !== undefined) {
      const own = problems.filter((problem) => problem.column === guess.column);
      const drafted = draftRole(role, columns, own, specs.get(role));
      const lines = guessLines(guess, { ...drafted, comments: [...drafted.comments, ...asideOf(role)] }, say);
      const spare = dispensableRoles.has(role) && own.length > 0;
      return spare ? lines.map((line) => (line.startsWith("  #") ? line : `  #${line.slice(1)}`)) : lines;
    }
    if (question !== undefined) {
      return questionLines(question, mustBeAnswered(question, wanted), say);
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

/** Numbers, from 1, of the lines that hold an open question. */
export function openLines(text: string): number[] {
  return text.split("\n").flatMap((line, i) => (!/^\s*#/.test(line) && line.endsWith(open) ? [i + 1] : []));
}

/**
 * The text of a survey.yaml for a table: each guess with its reason, how sure it is and sample values, what was settled from
 * the values written out, and a question mark wherever the user has to decide; the schema refuses the file until each is
 * replaced. Answers already given take the place of questions.
 */
export function draft(table: TextTable, say: Say, answers: Answers = noAnswers): string {
  const guesses = answeredGuesses(table, answers);
  const columns = columnLines(table, guesses, answers, say);
  const base = table.file.replace(/\.[A-Za-z0-9]{1,5}$/, "");
  const body = [
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
  ];
  // Two lines of comment stand before the body.
  const lines = openLines(body.join("\n")).map((line) => line + 2);
  const state =
    lines.length === 0
      ? message("input.draft.no-questions")
      : message("input.draft.questions", { questions: lines.length, lines: lines.map(String) });
  const intro = message("input.draft.intro", { file: showValue(table.file), rows: table.rowCount });
  return [comment(say, intro, ""), comment(say, state, ""), ...body].join("\n");
}
