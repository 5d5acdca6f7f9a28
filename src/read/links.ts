import type { ReadOptions, StatedJoin } from "./options.js";
import type { Part } from "./part.js";
import { InputError, inputProblem } from "./problem.js";
import type { TextColumn } from "./table.js";

/** How a table's rows find their row in a parent table. */
export interface Link {
  readonly child: Part;
  readonly key: TextColumn;
  readonly parent: Part;
  readonly parentKey: TextColumn;
  /** Whether the settings state it, a form's own columns say it, or a column name that both tables have. */
  readonly by: "settings" | "form" | "name";
}

/** The last segment of a form's group path, in lower case. */
function bareName(name: string): string {
  return name.slice(Math.max(...["/", ":", "."].map((sign) => name.lastIndexOf(sign))) + 1).toLowerCase();
}

function columnNamed(part: Part, name: string): TextColumn | undefined {
  return part.columns.find((column) => column.name === name);
}

/** The column that a form writes by itself under this name, whatever group stands before it. */
export function formColumn(part: Part, name: string): TextColumn | undefined {
  return part.columns.find((column) => bareName(column.name) === name);
}

/** Texts of a column that rows do hold, the empty one left out. */
function texts(column: TextColumn): string[] {
  return column.values.filter((text) => text !== "");
}

/** Of the key's distinct texts, the number that the parent's key has. */
function matches(key: TextColumn, parentKey: TextColumn): number {
  const known = new Set(texts(parentKey));
  return texts(key).filter((text) => known.has(text)).length;
}

/** The link to the parent whose key has most of the texts; null where none has any, or two do equally well. */
function bestLink(links: readonly Link[]): Link | null {
  const counted = links
    .map((link) => ({ link, count: matches(link.key, link.parentKey) }))
    .filter(({ count }) => count > 0)
    .sort((a, b) => b.count - a.count);
  const [best, second] = counted;
  return best === undefined || best.count === second?.count ? null : best.link;
}

/** Columns in which forms write their parent's key, and the parent's column that holds it: the nearest parent's. */
const parentKeys = [
  ["parent_key", "key"],
  ["_parent_uuid", "_uuid"],
  ["_parent_id", "_id"],
] as const;

/** The same for the form as a whole, however many repeats lie between. */
const submissionKeys = [
  ["_submission__uuid", "_uuid"],
  ["_submission__id", "_id"],
] as const;

/** Signs that the name of a sheet can have; the name of a table that a form writes may be longer. */
const longestSheetName = 31;

/** Links from a child's column to every table that has the parent's column. */
function linksTo(child: Part, candidates: readonly Part[], keyName: string, parentName: string): Link[] {
  const key = formColumn(child, keyName);
  if (key === undefined) return [];
  return candidates.flatMap((parent) => {
    const parentKey = formColumn(parent, parentName);
    return parentKey === undefined ? [] : [{ child, key, parent, parentKey, by: "form" as const }];
  });
}

/** The link by the first of these pairs of columns that leads to one table. */
function linkByKeys(child: Part, others: readonly Part[], pairs: readonly (readonly [string, string])[]): Link | null {
  for (const [keyName, parentName] of pairs) {
    const links = linksTo(child, others, keyName, parentName);
    const [only, another] = links;
    const found = bestLink(links) ?? (another === undefined ? only : undefined);
    if (found !== undefined) return found;
  }
  return null;
}

/** The link by numbers of rows, which fit every table: without a name of the parent only one candidate will do. */
function linkByIndex(child: Part, others: readonly Part[]): Link | null {
  const named = formColumn(child, "_parent_table_name");
  const names = new Set(
    named === undefined ? [] : texts(named).flatMap((name) => [name, name.slice(0, longestSheetName)]),
  );
  const candidates = others.filter((part) => names.size === 0 || names.has(part.name ?? ""));
  const links = linksTo(child, candidates, "_parent_index", "_index");
  return links.length === 1 ? (links[0] ?? null) : null;
}

/**
 * Links by the columns that forms write: the nearest parent's key (PARENT_KEY holds the parent's KEY), else the number of its row
 * (_parent_index holds the parent's _index, and _parent_table_name its name), else the key of the whole form
 * (_submission__uuid holds the form's _uuid).
 */
function formLink(child: Part, parts: readonly Part[]): Link | null {
  const others = parts.filter((part) => part !== child);
  return (
    linkByKeys(child, others, parentKeys) ?? linkByIndex(child, others) ?? linkByKeys(child, others, submissionKeys)
  );
}

/** True where every row that has a text in the column has one of its own. */
function isUnique(column: TextColumn): boolean {
  const seen = new Uint8Array(column.values.length);
  for (const code of column.codes) {
    if (column.values[code] === "") continue;
    if (seen[code] === 1) return false;
    seen[code] = 1;
  }
  return true;
}

/**
 * Links by a column of the same name: a key of the parent, each row with a text of its own, that is no such key of the child and
 * holds nearly all of the child's texts. The parent must have something to give: a list of codes has not. Columns of other names
 * are never compared: row numbers would fit anything.
 */
function nameLink(child: Part, parts: readonly Part[], options: ReadOptions): Link | null {
  const recognises = options.recognises ?? (() => false);
  const useful = (name: string): boolean => options.columns?.has(name) ?? recognises(name);
  const own = new Set(child.columns.map((column) => bareName(column.name)));
  const givers = parts.filter(
    (part) => part !== child && part.columns.some(({ name }) => useful(name) && !own.has(bareName(name))),
  );
  const links: Link[] = [];
  for (const key of child.columns) {
    const distinct = texts(key).length;
    // A measurement or a sex that both tables have is no key.
    if (distinct < 2 || isUnique(key)) continue;
    for (const parent of givers) {
      const parentKey = parent.columns.find((column) => bareName(column.name) === bareName(key.name));
      if (parentKey === undefined || !isUnique(parentKey)) continue;
      if (matches(key, parentKey) >= distinct * 0.9) links.push({ child, key, parent, parentKey, by: "name" });
    }
  }
  const parents = new Set(links.map((link) => link.parent));
  if (parents.size !== 1) return null;
  // Several keys may say the same: one whose name the program knows, such as the household's, is as good as any.
  return links.find((link) => recognises(link.key.name)) ?? links[0] ?? null;
}

function statedLink(child: Part, parts: readonly Part[], join: StatedJoin, file: string): Link {
  const parent = partNamed(parts, join.parent, file);
  const find = (part: Part, name: string): TextColumn => {
    const column = columnNamed(part, name);
    if (column !== undefined) return column;
    const details = { columns: part.columns.map((known) => known.name) };
    throw new InputError([inputProblem("join-column-not-found", part.place, { value: name, details })]);
  };
  return { child, key: find(child, join.key), parent, parentKey: find(parent, join.parentKey), by: "settings" };
}

/** The table of that name; without its ending a file's name will do as well. */
export function partNamed(parts: readonly Part[], name: string, file: string): Part {
  const wanted = [name, name.replace(/\.(?:csv|tsv|txt)$/i, "")];
  const found = parts.find((part) => wanted.includes(part.name ?? ""));
  if (found !== undefined) return found;
  const sheets = parts.map((part) => part.name ?? "");
  throw new InputError([inputProblem("sheet-not-found", file, { value: name, details: { sheets } })]);
}

/** The link of a table to its parent: as stated, by the form's own columns, or by a column that both have; null if it has none. */
export function linkOf(child: Part, parts: readonly Part[], file: string, options: ReadOptions): Link | null {
  const stated = options.joins?.find((join) => partNamed(parts, join.table, file) === child);
  if (stated !== undefined) return statedLink(child, parts, stated, file);
  if ((options.joins ?? []).length > 0) return null;
  return formLink(child, parts) ?? nameLink(child, parts, options);
}

/** The links from a table to its parent, that one's parent and so on; a table is met once. */
export function chainFrom(rows: Part, parts: readonly Part[], file: string, options: ReadOptions): Link[] {
  const met = new Set([rows]);
  const chain: Link[] = [];
  let table = rows;
  for (;;) {
    const link = linkOf(table, parts, file, options);
    if (link === null || met.has(link.parent)) return chain;
    chain.push(link);
    met.add(link.parent);
    table = link.parent;
  }
}
