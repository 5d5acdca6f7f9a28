import { type Cells, cellsOf } from "../columns/cells.js";
import { isFormColumn, matchName, type NameRank } from "../columns/column-names.js";
import { isCodeLike } from "../columns/labels.js";
import { parseNumber } from "../columns/numbers.js";
import { type OptionColumns, optionColumns, roleCells } from "../columns/option-columns.js";
import type { TextTable } from "../read/table.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { columnsOf } from "../settings/role-columns.js";
import { codingRoles, dateRoles, namingRoles, type Role, type RoleSpec, roles } from "../settings/roles.js";
import { showValue } from "../settings/show-value.js";
import { mustBeAsked } from "./personal.js";
import { isOneOf, plausible, presentIndices, shareOf, valuesSuggest } from "./plausible.js";
import { type Candidate, claimsOf } from "./rivals.js";

/** A column taken for a role, and why. */
export interface RoleGuess {
  readonly role: Role;
  readonly column: string;
  readonly reason: Message;
  /** How far the name and the values bear the guess out. */
  readonly confidence: "high" | "fair" | "low";
  /** Up to three of its values; of roles that may name people or places, only plain codes. */
  readonly samples: readonly string[];
  /** Its 0/1 columns by meaning, where a question with several answers has no column of its own. */
  readonly options?: Readonly<Record<string, readonly string[]>>;
  /** The column that is read where the first is empty, where two hold a part of the rows each. */
  readonly otherwise?: string;
}

/** Several columns fit a role equally well, or only by their values: the user has to say. */
export interface RoleQuestion {
  readonly role: Role;
  readonly candidates: readonly { readonly column: string; readonly samples: readonly string[] }[];
  /**
   * 'names' when several names fit; 'values' when no name fits and values alone suggest them; 'years' when the name says
   * that it is an age, and the values look like years.
   */
  readonly from: "names" | "values" | "years";
}

export interface Guesses {
  readonly guesses: ReadonlyMap<Role, RoleGuess>;
  readonly questions: readonly RoleQuestion[];
  /** Columns that a data-collection form writes by itself. */
  readonly formColumns: readonly string[];
  /** 0/1 columns, one an answer, of questions that have a column of their own. */
  readonly optionColumns: readonly string[];
  /** All other columns: they are not read. */
  readonly otherColumns: readonly string[];
}

/** Roles that are looked for by their values where no name fits. */
const soughtByValues: readonly Role[] = ["interview-date", "sex", "birth-date", "weight", "height", "position"];
const samplesShown = 3;
/** Columns suggested by values alone. */
const suggestionsShown = 4;

/** How many of a column's values are looked through for plain codes to show. */
const lookedThrough = 200;

/** The first values of a column that may be shown for a role. */
export function samplesOf(role: Role, cells: Cells): string[] {
  const texts = presentIndices(cells)
    .slice(0, lookedThrough)
    .map((index) => cells.values[index] ?? "");
  return texts
    .filter((text) => !namingRoles.has(role) || isCodeLike(text))
    .slice(0, samplesShown)
    .map(showValue);
}

/** How sure a guess is: by the rank of the name, and whether the values can be those of the role. */
function confidenceOf({ role, cells, rank }: Candidate): RoleGuess["confidence"] {
  if (!plausible(role, cells, rank) || rank > 3) return "low";
  return rank === 3 ? "fair" : "high";
}

const reasonOf: Readonly<Record<NameRank, string>> = {
  1: "own-name",
  2: "usual-name",
  3: "group-path",
  4: "weak-name",
  5: "form-opened",
  6: "form-closed",
  7: "form-sent",
};

function guessFromName(only: Candidate, otherwise: Candidate | null): RoleGuess {
  const { role, rank, cells } = only;
  const column = cells.name;
  const base = { role, column, confidence: confidenceOf(only), samples: samplesOf(role, cells) };
  if (otherwise === null) {
    return { ...base, reason: message(`input.guess.reason.${reasonOf[rank]}`, { column: showValue(column) }) };
  }
  const names = { column: showValue(column), otherwise: showValue(otherwise.cells.name) };
  return { ...base, otherwise: otherwise.cells.name, reason: message("input.guess.reason.halves", names) };
}

/** Columns whose values could be those of a role, where no name says so. Only ever a suggestion. */
function byValues(role: Role, columns: readonly Cells[], taken: ReadonlySet<string>): RoleQuestion | null {
  const candidates = columns
    .filter((cells) => !taken.has(cells.name) && presentIndices(cells).length > 1)
    .filter((cells) => valuesSuggest(role, cells))
    .slice(0, suggestionsShown)
    .map((cells) => ({ column: cells.name, samples: samplesOf(role, cells) }));
  return candidates.length === 0 ? null : { role, candidates, from: "values" };
}

/** True where a column was found for the role and is not empty. */
export function isFilled(role: Role, guesses: ReadonlyMap<Role, RoleGuess>): boolean {
  return (guesses.get(role)?.samples.length ?? 0) > 0;
}

/** True where an age can be had: from two dates or in months, from columns that are not empty. */
export function hasAge(guesses: ReadonlyMap<Role, RoleGuess>): boolean {
  const filled = (role: Role): boolean => isFilled(role, guesses);
  return filled("age-months") || (filled("birth-date") && (filled("interview-date") || filled("entry-time")));
}

/** Dates are sought by their values where no age is known without them: a form may hold many dates. */
function isSought(role: Role, guesses: ReadonlyMap<Role, RoleGuess>): boolean {
  return !isOneOf(dateRoles, role) || !hasAge(guesses);
}

/** Columns named as an age that hold what looks like years, where no other age is known. */
function inYears(candidates: readonly Candidate[], guesses: ReadonlyMap<Role, RoleGuess>): RoleQuestion | null {
  if (hasAge(guesses) || guesses.has("age-months")) return null;
  const ages = candidates.filter(
    ({ role, cells }) => role === "age-months" && shareOf(cells, (text) => parseNumber(text) >= 0) > 0.5,
  );
  const listed = ages.map(({ cells }) => ({ column: cells.name, samples: samplesOf("age-months", cells) }));
  return listed.length === 0 ? null : { role: "age-months", candidates: listed, from: "years" };
}

/** A role that only the 0/1 columns of its answers hold. */
function guessFromAnswers(table: TextTable, role: Role, answers: OptionColumns): RoleGuess | null {
  const question = isOneOf(codingRoles, role) ? answers.questions.get(role) : undefined;
  if (question === undefined) return null;
  const { name: column, options } = question;
  const cells = roleCells(table, { column, options, missing: [] });
  const reason = message("input.guess.reason.answers", { column: showValue(column) });
  return { role, column, options, reason, confidence: "fair", samples: cells === null ? [] : samplesOf(role, cells) };
}

/** How a guessed role's column is to be read. */
export function specOfGuess({ column, options, otherwise }: RoleGuess, missing: readonly string[]): RoleSpec {
  return {
    column,
    missing,
    ...(options === undefined ? {} : { options }),
    ...(otherwise === undefined ? {} : { otherwise }),
  };
}

/**
 * Which column is what, from the columns' names: a role's own name before a usual name before a usual name behind a
 * form's group path before a weak one; the values must be plausible where more than one column or role is possible. Two columns that
 * claim one role are a question, never a choice, unless both tell the same or each holds a part of the rows.
 */
export function guessRoles(table: TextTable): Guesses {
  const answers = optionColumns(table);
  const columns = table.columns
    .filter(({ name }) => !answers.ofColumns.has(name))
    .flatMap((column) => cellsOf(table, column.name) ?? []);
  const candidates = columns.flatMap((cells): Candidate[] => {
    const matches = matchName(cells.name);
    return matches.map((match) => ({ ...match, cells, roleCount: matches.length }));
  });
  const guesses = new Map<Role, RoleGuess>();
  const questions: RoleQuestion[] = [];
  for (const role of roles) {
    const claiming = candidates.filter((candidate) => candidate.role === role);
    const { columns: found, otherwise } = claimsOf(role, claiming, table.rowCount);
    const [only] = found;
    if (only !== undefined && found.length === 1 && mustBeAsked(role, only.cells)) {
      // No value is shown: it could be a name or a number of somebody.
      questions.push({ role, candidates: [{ column: only.cells.name, samples: [] }], from: "names" });
    } else if (only !== undefined && found.length === 1) {
      guesses.set(role, guessFromName(only, otherwise));
    } else if (found.length > 1) {
      const listed = found.map(({ cells }) => ({
        column: cells.name,
        samples: mustBeAsked(role, cells) ? [] : samplesOf(role, cells),
      }));
      questions.push({ role, candidates: listed, from: "names" });
    } else {
      const guess = guessFromAnswers(table, role, answers);
      if (guess !== null) guesses.set(role, guess);
    }
  }
  const asked = new Set(questions.map((question) => question.role));
  const taken = new Set([...guesses.values()].flatMap((guess) => columnsOf(specOfGuess(guess, []))));
  const free = columns.filter((cells) => !isFormColumn(cells.name));
  for (const role of soughtByValues) {
    const empty = isOneOf(dateRoles, role) && !isFilled(role, guesses);
    if ((guesses.has(role) && !empty) || asked.has(role) || !isSought(role, guesses)) continue;
    const question = byValues(role, free, taken);
    if (question === null) continue;
    questions.push(question);
    // An empty column with the right name gives way to the question.
    taken.delete(guesses.get(role)?.column ?? "");
    guesses.delete(role);
  }
  const years = inYears(candidates, guesses);
  if (years !== null) questions.push(years);
  const used = new Set([...taken, ...questions.flatMap((question) => question.candidates.map(({ column }) => column))]);
  return {
    guesses,
    questions,
    optionColumns: [...answers.ofColumns],
    formColumns: columns.filter(({ name }) => isFormColumn(name) && !used.has(name)).map(({ name }) => name),
    otherColumns: free.filter(({ name }) => !used.has(name)).map(({ name }) => name),
  };
}
