import { cellsOf } from "../columns/cells.js";
import type { TextTable } from "../read/table.js";
import { message } from "../results/message.js";
import type { Role, RoleSpec } from "../settings/roles.js";
import { showValue } from "../settings/show-value.js";
import type { Guesses, RoleGuess } from "./guess.js";
import { guessRoles, samplesOf, specOfGuess } from "./guess.js";

/** What the user has answered while the settings are drafted. */
export interface Answers {
  /** Column chosen for a role; null for none of those offered. */
  readonly columns: ReadonlyMap<Role, string | null>;
  /** How a role's column is to be read, as far as it was asked. */
  readonly readings: ReadonlyMap<Role, Partial<RoleSpec>>;
}

export const noAnswers: Answers = { columns: new Map(), readings: new Map() };

/** The answers with a column, or none, for a role. */
export function withColumn(answers: Answers, role: Role, column: string | null): Answers {
  return { ...answers, columns: new Map([...answers.columns, [role, column]]) };
}

/** The answers with one thing more about how a role's column is read. */
export function withReading(answers: Answers, role: Role, reading: Partial<RoleSpec>): Answers {
  const known = answers.readings.get(role) ?? {};
  return { ...answers, readings: new Map([...answers.readings, [role, { ...known, ...reading }]]) };
}

function answered(table: TextTable, role: Role, column: string): RoleGuess {
  const cells = cellsOf(table, column);
  const reason = message("input.guess.reason.answered", { column: showValue(column) });
  return { role, column, reason, confidence: "high", samples: cells === null ? [] : samplesOf(role, cells) };
}

/** The guesses after the user's answers: a column chosen is a guess like any other, and no question is put twice. */
export function answeredGuesses(table: TextTable, answers: Answers): Guesses {
  const guessed = guessRoles(table);
  const guesses = new Map(guessed.guesses);
  const chosen = new Set<string>();
  for (const [role, column] of answers.columns) {
    if (column === null) continue;
    // A column is one thing only: what it was taken for before gives way.
    for (const [other, guess] of guesses) if (guess.column === column) guesses.delete(other);
    guesses.set(role, answered(table, role, column));
    chosen.add(column);
  }
  return {
    ...guessed,
    guesses,
    questions: guessed.questions.filter(({ role }) => !answers.columns.has(role)),
    otherColumns: guessed.otherColumns.filter((name) => !chosen.has(name)),
  };
}

/** How the guessed columns are to be read, with what the user answered about them. */
export function answeredSpecs({ guesses }: Guesses, answers: Answers): Map<Role, RoleSpec> {
  return new Map(
    [...guesses.values()].map((guess) => [
      guess.role,
      { ...specOfGuess(guess, []), ...answers.readings.get(guess.role) },
    ]),
  );
}
