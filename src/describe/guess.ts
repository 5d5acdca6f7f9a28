import type { TextTable } from "../read/table.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { type Cells, cellsOf } from "./cells.js";
import { isFormColumn, matchName, type NameMatch, type NameRank } from "./column-names.js";
import { parseNumber } from "./numbers.js";
import { isOneOf, plausible, presentIndices, shareOf, valuesSuggest } from "./plausible.js";
import { dateRoles, type Role, roles } from "./roles.js";
import { showValue } from "./show-value.js";

/** A column taken for a role, and why. */
export interface RoleGuess {
  readonly role: Role;
  readonly column: string;
  readonly reason: Message;
  /** Up to three of its values. */
  readonly samples: readonly string[];
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
  /** All other columns: they are not read. */
  readonly otherColumns: readonly string[];
}

interface Candidate extends NameMatch {
  readonly cells: Cells;
  /** How many roles the name fits. */
  readonly roleCount: number;
}

/** Roles that are looked for by their values where no name fits. */
const soughtByValues: readonly Role[] = ["interview-date", "sex", "birth-date", "weight", "height", "position"];
const samplesShown = 3;
/** Columns suggested by values alone. */
const suggestionsShown = 4;

function samplesOf(cells: Cells): string[] {
  return presentIndices(cells)
    .slice(0, samplesShown)
    .map((index) => showValue(cells.values[index] ?? ""));
}

/** The best of several columns for one role: those with values before empty ones, plausible ones only, then by name. */
function best(role: Role, candidates: readonly Candidate[]): readonly Candidate[] {
  const sole = candidates.length === 1 && candidates[0]?.roleCount === 1 && (candidates[0]?.rank ?? 4) <= 2;
  // A single column with the right name is kept whatever it holds: what is wrong with it is then said cell by cell.
  const fitting = sole ? candidates : candidates.filter(({ cells, rank }) => plausible(role, cells, rank));
  const rank = Math.min(...fitting.map((candidate) => candidate.rank));
  return fitting.filter((candidate) => candidate.rank === rank);
}

const reasonOf: Readonly<Record<NameRank, string>> = {
  1: "own-name",
  2: "usual-name",
  3: "group-path",
  4: "weak-name",
};

/** Columns whose values could be those of a role, where no name says so. Only ever a suggestion. */
function byValues(role: Role, columns: readonly Cells[], taken: ReadonlySet<string>): RoleQuestion | null {
  const candidates = columns
    .filter((cells) => !taken.has(cells.name) && presentIndices(cells).length > 1)
    .filter((cells) => valuesSuggest(role, cells))
    .slice(0, suggestionsShown)
    .map((cells) => ({ column: cells.name, samples: samplesOf(cells) }));
  return candidates.length === 0 ? null : { role, candidates, from: "values" };
}

/** True where a column was found for the role and is not empty. */
export function isFilled(role: Role, guesses: ReadonlyMap<Role, RoleGuess>): boolean {
  return (guesses.get(role)?.samples.length ?? 0) > 0;
}

/** True where an age can be had: from two dates or in months, from columns that are not empty. */
export function hasAge(guesses: ReadonlyMap<Role, RoleGuess>): boolean {
  const filled = (role: Role): boolean => isFilled(role, guesses);
  return filled("age-months") || (filled("birth-date") && filled("interview-date"));
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
  const listed = ages.map(({ cells }) => ({ column: cells.name, samples: samplesOf(cells) }));
  return listed.length === 0 ? null : { role: "age-months", candidates: listed, from: "years" };
}

/**
 * Which column is what, from the columns' names: a role's own name before a usual name before a usual name behind a
 * form's group path before a weak one; the values must be plausible where more than one column or role is possible. Two equally good
 * columns are a question, never a choice.
 */
export function guessRoles(table: TextTable): Guesses {
  const columns = table.columns.flatMap((column) => cellsOf(table, column.name) ?? []);
  const candidates = columns.flatMap((cells): Candidate[] => {
    const matches = matchName(cells.name);
    return matches.map((match) => ({ ...match, cells, roleCount: matches.length }));
  });
  const guesses = new Map<Role, RoleGuess>();
  const questions: RoleQuestion[] = [];
  for (const role of roles) {
    const found = best(
      role,
      candidates.filter((candidate) => candidate.role === role),
    );
    const [only] = found;
    if (only !== undefined && found.length === 1) {
      const { name } = only.cells;
      const reason = message(`input.guess.reason.${reasonOf[only.rank]}`, { column: showValue(name) });
      guesses.set(role, { role, column: name, reason, samples: samplesOf(only.cells) });
    } else if (found.length > 1) {
      const listed = found.map(({ cells }) => ({ column: cells.name, samples: samplesOf(cells) }));
      questions.push({ role, candidates: listed, from: "names" });
    }
  }
  const asked = new Set(questions.map((question) => question.role));
  const taken = new Set([...guesses.values()].map((guess) => guess.column));
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
    formColumns: columns.filter(({ name }) => isFormColumn(name) && !used.has(name)).map(({ name }) => name),
    otherColumns: free.filter(({ name }) => !used.has(name)).map(({ name }) => name),
  };
}
