import type { Cells } from "../columns/cells.js";
import type { NameMatch } from "../columns/column-names.js";
import { missingTexts } from "../columns/missing.js";
import { parseNumber } from "../columns/numbers.js";
import { dispensableRoles, measureRoles, type Role } from "../settings/roles.js";
import { isOneOf, plausible, presentIndices } from "./plausible.js";

/** Each of two columns holds at least this share of the rows, where they are read as one. Own rule. */
const leastShare = 0.05;

/** How two columns that claim one role go together. */
interface Overlap {
  readonly first: number;
  readonly second: number;
  readonly both: number;
  /** True where the second column tells nothing that the first does not. */
  readonly same: boolean;
}

function meaningOf(text: string): string {
  const number = parseNumber(text);
  return Number.isNaN(number) ? text : String(number);
}

/**
 * Compares two columns row by row. They tell the same where the second is filled only in rows in which the first is, and every value
 * of the one goes with one value of the other: the same number, or a code and its label.
 */
function overlapOf(one: Cells, other: Cells, asNumbers: boolean): Overlap {
  const [empty, otherEmpty] = [missingTexts(one, []), missingTexts(other, [])];
  const pair = new Map<string, string>();
  const back = new Map<string, string>();
  const texts = new Set(one.values.map(meaningOf));
  let [first, second, both, same] = [0, 0, 0, true];
  one.codes.forEach((code, row) => {
    const otherCode = other.codes[row] ?? 0;
    const [here, there] = [empty[code] !== 1, otherEmpty[otherCode] !== 1];
    first += here ? 1 : 0;
    second += there ? 1 : 0;
    if (!there) return;
    if (!here) {
      same = false;
      return;
    }
    both += 1;
    const [a, b] = [meaningOf(one.values[code] ?? ""), meaningOf(other.values[otherCode] ?? "")];
    // A word of both columns has to mean the same in both: 'm' beside 'f' is no code and its label.
    if (asNumbers || texts.has(b)) same &&= a === b;
    else same &&= (pair.get(a) ?? b) === b && (back.get(b) ?? a) === a;
    pair.set(a, b);
    back.set(b, a);
  });
  return { first, second, both, same };
}

/** True for two columns of which each holds a part of the rows and never both: two halves of one. */
function areHalves({ first, second, both }: Overlap, rows: number): boolean {
  return both === 0 && first >= leastShare * rows && second >= leastShare * rows;
}

/** A column whose name fits a role. */
export interface Candidate extends NameMatch {
  readonly cells: Cells;
  /** How many roles the name fits. */
  readonly roleCount: number;
}

/** Columns that fit a role: those with values before empty ones, plausible ones only. */
function fitting(role: Role, candidates: readonly Candidate[]): readonly Candidate[] {
  const sole = candidates.length === 1 && candidates[0]?.roleCount === 1 && (candidates[0]?.rank ?? 4) <= 2;
  // A single column with the right name is kept whatever it holds: what is wrong with it is then said cell by cell.
  return sole ? candidates : candidates.filter(({ cells, rank }) => plausible(role, cells, rank));
}

/**
 * The best of several columns for one role by their names. Where two share the last part of their names, such as weight and
 * again/weight, both are best: neither name says which is meant.
 */
function bestNamed(candidates: readonly Candidate[]): readonly Candidate[] {
  const rank = Math.min(...candidates.map((candidate) => candidate.rank));
  const words = new Set(candidates.filter((candidate) => candidate.rank === rank).map(({ word }) => word));
  return candidates.filter(
    (candidate) => candidate.rank === rank || (candidate.rank <= 3 && words.has(candidate.word)),
  );
}

/** The columns that claim a role. */
export interface Claims {
  /** One where it is clear, none where no name fits, several where the user has to say. */
  readonly columns: readonly Candidate[];
  /** The column to be read where the only one of `columns` is empty. */
  readonly otherwise: Candidate | null;
}

/** False for a column that holds one number only, and so measures nothing. */
function varies(role: Role, cells: Cells): boolean {
  return !isOneOf(measureRoles, role) || presentIndices(cells).length > 1;
}

/**
 * Which columns claim a role. A better name decides only where the other columns tell nothing more, or where the report can do without
 * the role: a second column with a usual name of the role is otherwise put to the user. Two columns that are never both filled are
 * read as one.
 */
export function claimsOf(role: Role, candidates: readonly Candidate[], rows: number): Claims {
  const fit = fitting(role, candidates);
  const best = bestNamed(fit);
  const [first] = best;
  if (first === undefined || dispensableRoles.has(role)) return { columns: best, otherwise: null };
  const asNumbers = isOneOf(measureRoles, role) || role === "sampling-weight" || role === "age-months";
  const named =
    first.rank > 3 ? [] : fit.filter((one) => one.rank <= 3 && !best.includes(one) && varies(role, one.cells));
  const others = [...best.slice(1), ...named];
  const [second] = others;
  if (second !== undefined && others.length === 1 && areHalves(overlapOf(first.cells, second.cells, asNumbers), rows)) {
    return { columns: [first], otherwise: second };
  }
  const rivals = named.filter(({ cells }) => !overlapOf(first.cells, cells, asNumbers).same);
  return { columns: [...best, ...rivals], otherwise: null };
}
