import type { TextTable } from "../read/table.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { type Cells, cellsOf } from "./cells.js";
import { readCodes } from "./coded.js";
import { isFormColumn, matchName, type NameMatch, type NameRank } from "./column-names.js";
import { parseDate } from "./dates.js";
import { missingTexts } from "./missing.js";
import { parseNumber } from "./numbers.js";
import { type CodingRole, codingRoles, dateRoles, type MeasureRole, measureRoles, type Role, roles } from "./roles.js";
import { showValue } from "./show-value.js";
import { fits, unitsOf } from "./units.js";

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
  /** 'names' when several names fit; 'values' when no name fits and values alone suggest them. */
  readonly from: "names" | "values";
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
const soughtByValues: readonly Role[] = ["sex", "weight", "height", "birth-date"];
const samplesShown = 3;
/** Columns suggested by values alone. */
const suggestionsShown = 4;

function presentIndices(cells: Cells): number[] {
  const missing = missingTexts(cells, []);
  return cells.values.flatMap((_, index) => (missing[index] === 1 ? [] : [index]));
}

function samplesOf(cells: Cells): string[] {
  return presentIndices(cells)
    .slice(0, samplesShown)
    .map((index) => showValue(cells.values[index] ?? ""));
}

/** Share of the rows with a value whose text passes a test. */
function shareOf(cells: Cells, test: (text: string) => boolean): number {
  let all = 0;
  let passing = 0;
  for (const index of presentIndices(cells)) {
    const rows = cells.counts[index] ?? 0;
    all += rows;
    if (test(cells.values[index] ?? "")) passing += rows;
  }
  return all === 0 ? 0 : passing / all;
}

function isOneOf<Name extends Role>(names: readonly Name[], role: Role): role is Name {
  return (names as readonly Role[]).includes(role);
}

function fitsSomeUnit(role: MeasureRole, text: string): boolean {
  const value = parseNumber(text);
  return unitsOf[role].some((unit) => fits(unit, value));
}

/** Whether the values of a column can be those of a role; more than half of its rows must be. */
function plausible(role: Role, cells: Cells, rank: NameRank): boolean {
  if (isOneOf(measureRoles, role)) return shareOf(cells, (text) => fitsSomeUnit(role, text)) > 0.5;
  if (isOneOf(dateRoles, role)) return shareOf(cells, (text) => parseDate(text) !== null) > 0.5;
  if (isOneOf(codingRoles, role)) return codesPlausible(role, cells);
  if (role === "age-months") {
    // A column named 'age' alone may hold years: it is taken for months only when a value is beyond the years of a young child.
    const beyondYears = rank < 4 || cells.values.some((text) => parseNumber(text) > 6);
    return beyondYears && shareOf(cells, (text) => parseNumber(text) >= 0) > 0.5;
  }
  if (role === "sampling-weight") return shareOf(cells, (text) => parseNumber(text) > 0) > 0.5;
  return presentIndices(cells).length > 0;
}

function codesPlausible(role: CodingRole, cells: Cells): boolean {
  const read = readCodes(role, cells, { column: cells.name, missing: [] });
  const asked = read.problems.find((problem) => problem.kind === "codes-unclear");
  return asked === undefined || presentIndices(cells).length <= 4;
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

function valuesSuggest(role: Role, cells: Cells): boolean {
  if (isOneOf(measureRoles, role)) return shareOf(cells, (text) => fitsSomeUnit(role, text)) > 0.95;
  if (isOneOf(dateRoles, role)) return shareOf(cells, (text) => parseDate(text)?.kind !== undefined) > 0.95;
  if (!isOneOf(codingRoles, role)) return false;
  const read = readCodes(role, cells, { column: cells.name, missing: [] });
  return read.problems.length === 0 && Object.values(read.meanings).every((texts) => texts.length > 0);
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
    if (guesses.has(role) || asked.has(role) || (role === "birth-date" && guesses.has("age-months"))) continue;
    const question = byValues(role, free, taken);
    if (question !== null) questions.push(question);
  }
  const used = new Set([...taken, ...questions.flatMap((question) => question.candidates.map(({ column }) => column))]);
  return {
    guesses,
    questions,
    formColumns: columns.filter(({ name }) => isFormColumn(name) && !used.has(name)).map(({ name }) => name),
    otherColumns: free.filter(({ name }) => !used.has(name)).map(({ name }) => name),
  };
}
