import { type Role, roles } from "../settings/roles.js";
import {
  formColumns,
  formTimes,
  numberWords,
  otherPersons,
  passedOver,
  roleNames,
  unitWords,
  weakNames,
} from "./role-names.js";
import { plainWord, speaksOf } from "./words.js";

/** How surely a name says what its column is: the role's own name, a usual name, a usual name behind a form's group path, a weak one;
 * then the times that a form writes by itself: opened, closed, sent. */
export type NameRank = 1 | 2 | 3 | 4 | 5 | 6 | 7;

export interface NameMatch {
  readonly role: Role;
  readonly rank: NameRank;
  /** The part of the name that fits. */
  readonly word: string;
}

/** A name without small words, and with one word for 'number' however it is written. */
function bare(name: string): string {
  const words = plainWord(name)
    .split("_")
    .map((word, _, all) => (all.length > 1 && numberWords.has(word) ? "no" : word));
  const rest = words.filter((word) => !passedOver.has(word));
  return (rest.length === 0 ? words : rest).join("_");
}

function indexOf(names: Partial<Record<Role, readonly string[]>>): Map<string, Role[]> {
  const index = new Map<string, Role[]>();
  for (const role of roles) {
    for (const name of (names[role] ?? []).flatMap((line) => line.split(", "))) {
      for (const form of new Set([plainWord(name), bare(name)])) {
        index.set(form, [...(index.get(form) ?? []).filter((other) => other !== role), role]);
      }
    }
  }
  return index;
}

const roleWords = roles.map((role) => [role, plainWord(role)] as const);
const usualIndex = indexOf(roleNames);
const weakIndex = indexOf(weakNames);

/** Last signs of a name that are looked at: a file that is no table may hold 'names' of any length. */
const longestLookedAt = 200;

/** A name and its endings behind the separators that forms put between groups, the longest first. */
function endings(name: string): string[] {
  const found = [name];
  for (let i = 0; i < name.length - 1; i++) if ("/-.:".includes(name[i] ?? "")) found.push(name.slice(i + 1));
  return found;
}

/** The last segment of a form's group path. */
function lastSegment(name: string): string {
  return name.slice(Math.max(name.lastIndexOf("/"), name.lastIndexOf(":"), name.lastIndexOf(".")) + 1);
}

/** A name without small words and without the unit behind it. */
function core(name: string): string {
  const words = bare(name).split("_");
  while (words.length > 1 && unitWords.has(words.at(-1) ?? "")) words.pop();
  return words.join("_");
}

/** The forms in which a name is looked up: as it is, without small words, without the unit behind it. */
function forms(name: string): string[] {
  return [plainWord(name), bare(name), core(name)];
}

function rolesNamed(name: string, index: ReadonlyMap<string, Role[]>): Role[] {
  for (const form of forms(name)) {
    const found = index.get(form);
    if (found !== undefined) return found;
  }
  return [];
}

/** True where what stands before an ending speaks of somebody else: mother/weight is not the child's weight. */
function speaksOfAnother(before: string): boolean {
  return speaksOf(before, otherPersons);
}

/** True for a column that a form writes by itself. */
export function isFormColumn(name: string): boolean {
  return formColumns.has(lastSegment(name).toLowerCase());
}

/** True for the time at which a form was sent, which may be days after the interview. */
export function isSentTime(name: string): boolean {
  return formTimes.at(-1)?.includes(lastSegment(name).toLowerCase()) ?? false;
}

/** The moment of the interview, from a column that a form writes by itself. */
function matchFormTime(name: string): NameMatch[] {
  const word = lastSegment(name).toLowerCase();
  const order = formTimes.findIndex((names) => names.includes(word));
  return order < 0 ? [] : [{ role: "entry-time", rank: (5 + order) as NameRank, word }];
}

/**
 * The roles that a column's name fits: its whole name, or its ending behind '/', '-', '.' or ':'. A name is compared word for word, never by a part
 * of a word, so that 'weight consent' is not taken for a weight.
 */
export function matchName(whole: string): NameMatch[] {
  const name = whole.slice(-longestLookedAt);
  if (isFormColumn(name)) return matchFormTime(name);
  const written = forms(name);
  const own = roleWords.find(([, word]) => written.includes(word))?.[0];
  if (own !== undefined) return [{ role: own, rank: 1, word: core(name) }];
  for (const ending of endings(name)) {
    const before = name.slice(0, name.length - ending.length);
    if (speaksOfAnother(before)) continue;
    const rank = before === "" ? 2 : 3;
    const found = rolesNamed(ending, usualIndex);
    if (found.length > 0) return found.map((role) => ({ role, rank, word: core(ending) }));
  }
  const numbered = /^(.*?)[ _-]?\d{1,2}$/.exec(name)?.[1] ?? "";
  if (numbered !== "") {
    const repeated = matchName(numbered).filter((match) => match.rank < 4);
    if (repeated.length > 0) return repeated.map(({ role, word }) => ({ role, rank: 4, word }));
  }
  const last = endings(name).find((ending) => rolesNamed(ending, weakIndex).length > 0);
  if (last === undefined || speaksOfAnother(name.slice(0, name.length - last.length))) return [];
  return rolesNamed(last, weakIndex).map((role) => ({ role, rank: 4, word: core(last) }));
}

/** Whether the program knows a column name, for finding the delimiter. */
export function recognisesName(name: string): boolean {
  return isFormColumn(name) || matchName(name).length > 0;
}
