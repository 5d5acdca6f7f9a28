import { columnProblems, readColumns } from "../columns/read-columns.js";
import { setAsideNotes } from "../columns/set-aside.js";
import type { TextTable } from "../read/table.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { defaults, slug } from "../settings/make-settings.js";
import { dispensableRoles, namingRoles, type Role, roles } from "../settings/roles.js";
import { unanswered } from "../settings/settings-file.js";
import { showValue } from "../settings/show-value.js";
import { type Answers, answeredGuesses, answeredSpecs, noAnswers } from "./answers.js";
import { draftRole, type RoleDraft } from "./draft-role.js";
import { comment, otherEntries, type Say, unreadEntries } from "./draft-settings.js";
import { asksFor, type DraftEntry, type DraftText, type DraftValue, draftText } from "./draft-text.js";
import { type Guesses, hasAge, type RoleGuess, type RoleQuestion } from "./guess.js";
import { mustBeAnswered, rolesWanted } from "./wanted.js";

function samplesText({ role, samples }: RoleGuess): Message[] {
  if (samples.length > 0) return [message("input.draft.samples", { samples: [...samples] })];
  return [message(namingRoles.has(role) ? "input.draft.no-codes" : "input.draft.no-values")];
}

/** A role's column, and how it is read where that is more than its name. */
function guessValue(guess: RoleGuess, { keys }: RoleDraft): DraftValue {
  if (guess.options !== undefined) return { options: guess.options };
  const otherwise = guess.otherwise === undefined ? {} : { otherwise: guess.otherwise };
  const more = { ...otherwise, ...keys };
  return Object.keys(more).length === 0 ? guess.column : { column: guess.column, ...more };
}

function guessEntry(guess: RoleGuess, drafted: RoleDraft, off: boolean, say: Say): DraftEntry {
  const confidence = message(`input.draft.confidence.${guess.confidence}`);
  const comments = [guess.reason, confidence, ...samplesText(guess), ...drafted.comments];
  return {
    comments: comments.map((text) => comment(say, text)),
    key: guess.role,
    value: guessValue(guess, drafted),
    off,
  };
}

/** A question about which column it is. One that a report can do without is written as a comment. */
function questionEntry(question: RoleQuestion, needed: boolean, say: Say): DraftEntry {
  const { role, candidates, from } = question;
  const comments = [
    message(`input.draft.which.${from}`, { role: message(`input.role.${role}`) }),
    ...candidates.map(({ column, samples }) =>
      message("input.draft.candidate", { column: showValue(column), samples: [...samples] }),
    ),
    ...(needed ? [] : [message("input.draft.optional")]),
  ];
  return { comments: comments.map((text) => comment(say, text)), key: role, value: unanswered, off: !needed };
}

function columnEntries(table: TextTable, guesses: Guesses, answers: Answers, say: Say): DraftEntry[] {
  const specs = answeredSpecs(guesses, answers);
  const columns = readColumns(table, specs, defaults.ageRange.to);
  const problems = columnProblems(columns);
  const wanted = rolesWanted(guesses, table);
  const aside = setAsideNotes(columns);
  const asideOf = (role: Role): Message[] =>
    aside
      .filter(({ values }) => values.role === role)
      .map(({ id, values }) => message(id, { ...values, role: message(`input.role.${role}`) }));
  return roles.flatMap((role): DraftEntry[] => {
    const guess = guesses.guesses.get(role);
    if (guess !== undefined) {
      const own = problems.filter((problem) => problem.column === guess.column);
      const drafted = draftRole(role, columns, own, specs.get(role));
      const spare = dispensableRoles.has(role) && own.length > 0;
      return [guessEntry(guess, { ...drafted, comments: [...drafted.comments, ...asideOf(role)] }, spare, say)];
    }
    const question = guesses.questions.find((candidate) => candidate.role === role);
    if (question !== undefined) return [questionEntry(question, mustBeAnswered(question, wanted), say)];
    if (!wanted.has(role)) return [];
    const notFound = message("input.draft.not-found", { role: message(`input.role.${role}`) });
    return [{ comments: [comment(say, notFound)], key: role, value: unanswered }];
  });
}

/** Says that no age was found, where nothing is asked about it either. */
function noAgeEntries(guesses: Guesses, columns: readonly DraftEntry[], say: Say): DraftEntry[] {
  const asked = asksFor(columns, ["birth-date", "interview-date", "age-months"]);
  return hasAge(guesses.guesses) || asked ? [] : [{ comments: [comment(say, message("input.draft.no-age"))] }];
}

/** Where the data are, seen from the settings: a file, and of a workbook its sheet. */
export type DataPlace = string | { readonly file: string; readonly sheet: string };

/**
 * A survey.yaml for a table: each guess with its reason, how sure it is and sample values, what was settled from
 * the values written out, and a question mark wherever the user has to decide; the schema refuses the file until each is
 * replaced. Answers already given take the place of questions.
 */
export function draft(
  table: TextTable,
  say: Say,
  answers: Answers = noAnswers,
  data: DataPlace = table.file,
): DraftText {
  const guesses = answeredGuesses(table, answers);
  const columns = columnEntries(table, guesses, answers, say);
  const base = table.file.replace(/\.[A-Za-z0-9]{1,5}$/, "");
  const entries: DraftEntry[] = [
    { comments: [], key: "title", value: base },
    { comments: [], key: "name", value: slug(base) || "survey" },
    { comments: [], key: "data", value: data },
    {
      comments: [comment(say, message("input.draft.columns"))],
      key: "columns",
      value: [...columns, ...noAgeEntries(guesses, columns, say)],
      apart: true,
    },
    ...otherEntries(guesses, say),
    ...unreadEntries(guesses, say),
  ];
  const intro = message("input.draft.intro", { file: showValue(table.file), rows: table.rowCount });
  return draftText(entries, (open) => {
    const state =
      open.length === 0
        ? message("input.draft.no-questions")
        : message("input.draft.questions", { questions: open.length, lines: open.map(String) });
    return [comment(say, intro), comment(say, state)];
  });
}
