import type { Cells } from "../columns/cells.js";
import { readCodes } from "../columns/coded.js";
import type { NameRank } from "../columns/column-names.js";
import { parseDate, timeOfDay } from "../columns/dates.js";
import { missingTexts } from "../columns/missing.js";
import { parseNumber } from "../columns/numbers.js";
import { yearWords } from "../columns/role-names.js";
import { fits, unitsOf } from "../columns/units.js";
import { speaksOf } from "../columns/words.js";
import {
  type CodingRole,
  codingRoles,
  dateRoles,
  type MeasureRole,
  measureRoles,
  type Role,
} from "../settings/roles.js";

/** Indices of the distinct texts that are values. */
export function presentIndices(cells: Cells): number[] {
  const missing = missingTexts(cells, []);
  return cells.values.flatMap((_, index) => (missing[index] === 1 ? [] : [index]));
}

/** Share of the rows with a value whose text passes a test. */
export function shareOf(cells: Cells, test: (text: string) => boolean): number {
  let all = 0;
  let passing = 0;
  for (const index of presentIndices(cells)) {
    const rows = cells.counts[index] ?? 0;
    all += rows;
    if (test(cells.values[index] ?? "")) passing += rows;
  }
  return all === 0 ? 0 : passing / all;
}

/** True where a role is one of these. */
export function isOneOf<Name extends Role>(names: readonly Name[], role: Role): role is Name {
  return (names as readonly Role[]).includes(role);
}

function fitsSomeUnit(role: MeasureRole, text: string): boolean {
  const value = parseNumber(text);
  return unitsOf[role].some((unit) => fits(unit, value));
}

/** Whether the values of a column can be those of a role; more than half of its rows must be. */
export function plausible(role: Role, cells: Cells, rank: NameRank): boolean {
  if (isOneOf(measureRoles, role)) return shareOf(cells, (text) => fitsSomeUnit(role, text)) > 0.5;
  if (role === "entry-time") return shareOf(cells, isMoment) > 0.5;
  if (isOneOf(dateRoles, role)) return shareOf(cells, (text) => parseDate(text) !== null) > 0.5;
  if (isOneOf(codingRoles, role)) return codesPlausible(role, cells);
  if (role === "age-months") {
    // A column named 'age' alone may hold years: it is taken for months only when a value is beyond the years of a young child.
    const beyondYears = rank < 4 || cells.values.some((text) => parseNumber(text) > 6);
    return beyondYears && !speaksOf(cells.name, yearWords) && shareOf(cells, (text) => parseNumber(text) >= 0) > 0.5;
  }
  if (role === "sampling-weight") return shareOf(cells, (text) => parseNumber(text) > 0) > 0.5;
  return presentIndices(cells).length > 0;
}

/** True for a date with a time of day behind it. */
function isMoment(text: string): boolean {
  return parseDate(text) !== null && !Number.isNaN(timeOfDay(text));
}

function codesPlausible(role: CodingRole, cells: Cells): boolean {
  const read = readCodes(role, cells, { column: cells.name, missing: [] });
  const asked = read.problems.find((problem) => problem.kind === "codes-unclear");
  return asked === undefined || presentIndices(cells).length <= 4;
}

/** Whether the values of a column, whatever its name, look like those of a role. */
export function valuesSuggest(role: Role, cells: Cells): boolean {
  if (isOneOf(measureRoles, role)) return shareOf(cells, (text) => fitsSomeUnit(role, text)) > 0.95;
  if (isOneOf(dateRoles, role)) return shareOf(cells, (text) => parseDate(text)?.kind !== undefined) > 0.95;
  if (!isOneOf(codingRoles, role)) return false;
  // Two letters are used for many things; only whole words speak of lying and standing.
  if (role === "position" && cells.values.some((text) => text.length === 1)) return false;
  const read = readCodes(role, cells, { column: cells.name, missing: [] });
  return read.problems.length === 0 && Object.values(read.meanings).every((texts) => texts.length > 0);
}
