import { emptyColumn } from "./dictionary.js";
import { formColumn, type Link } from "./links.js";
import type { Part } from "./part.js";
import { InputError, type InputProblem, inputProblem } from "./problem.js";
import type { Origin, ReadNote, TextColumn } from "./table.js";

/** A child table with its parents' columns beside its own. */
export interface Joined {
  readonly columns: readonly TextColumn[];
  readonly notes: readonly ReadNote[];
}

/** Rows shown in a note. */
const rowsShown = 5;
const none = 0xffffffff;

function shownRows(rows: readonly number[]): string {
  return rows.slice(0, rowsShown).join(", ") + (rows.length > rowsShown ? ", …" : "");
}

/** Where each text of a parent's key stands: the first row that has it, and rows with a text met before. */
interface KeyIndex {
  readonly rowOf: Uint32Array;
  /** Rows that repeat a key, by the key's code. */
  readonly repeats: ReadonlyMap<number, readonly number[]>;
}

function indexOf(key: TextColumn): KeyIndex {
  const rowOf = new Uint32Array(key.values.length).fill(none);
  const repeats = new Map<number, number[]>();
  key.codes.forEach((code, row) => {
    if (key.values[code] === "") return;
    if (rowOf[code] === none) rowOf[code] = row;
    else {
      const rows = repeats.get(code);
      if (rows === undefined) repeats.set(code, [row]);
      else rows.push(row);
    }
  });
  return { rowOf, repeats };
}

/** The parent's row for each of the child's rows; `none` where there is none. */
function parentRows(link: Link, index: KeyIndex): Uint32Array {
  const codeOf = new Map(link.parentKey.values.map((text, code) => [text, code]));
  const rowOfText = Uint32Array.from(link.key.values, (text) => {
    const code = text === "" ? undefined : codeOf.get(text);
    return code === undefined ? none : (index.rowOf[code] ?? none);
  });
  return Uint32Array.from(link.key.codes, (code) => rowOfText[code] ?? none);
}

/** Two rows of the parent with one key are the same row written twice, as far as the wanted columns show. */
function sameRow(columns: readonly TextColumn[], one: number, other: number): boolean {
  return columns.every((column) => column.codes[one] === column.codes[other]);
}

/** Keys that two different rows of the parent have: it cannot be told which is meant. Rows written twice alike are noted. */
function repeatedKeys(
  link: Link,
  index: KeyIndex,
  wanted: readonly TextColumn[],
): { readonly problems: InputProblem[]; readonly notes: ReadNote[] } {
  const { parent, parentKey, key } = link;
  const used = new Set(key.values);
  const rowNumber = (row: number): number => parent.sheetRow[row] ?? 0;
  const problems: InputProblem[] = [];
  const alike: number[] = [];
  for (const [code, rows] of index.repeats) {
    const first = index.rowOf[code] ?? 0;
    const value = parentKey.values[code] ?? "";
    const other = used.has(value) ? rows.find((row) => !sameRow(wanted, first, row)) : undefined;
    if (other === undefined) alike.push(...rows.map(rowNumber));
    else {
      const details = { other: rowNumber(first) };
      problems.push(
        inputProblem("duplicate-key", parent.place, { column: parentKey.name, row: rowNumber(other), value, details }),
      );
    }
  }
  const values = { table: parent.name ?? parent.place, count: alike.length, rows: shownRows(alike) };
  return { problems, notes: alike.length === 0 ? [] : [{ id: "duplicate-keys", values }] };
}

/** A parent's column spread over the child's rows, with the texts that these do hold. */
function spread(column: TextColumn, rows: Uint32Array, name: string, from: Origin): TextColumn {
  const known = column.values.indexOf("");
  // What a row without a parent gets: the code of the empty text, or the next free one.
  const empty = known === -1 ? column.values.length : known;
  const newCode = new Uint32Array(column.values.length + 1).fill(none);
  const values: string[] = [];
  const codes = Uint32Array.from(rows, (row) => {
    const code = row === none ? empty : (column.codes[row] ?? empty);
    if (newCode[code] === none) newCode[code] = values.push(column.values[code] ?? "") - 1;
    return newCode[code] ?? 0;
  });
  return { name, codes, values, from };
}

function orphanNotes(link: Link, rows: Uint32Array): ReadNote[] {
  const { child, parent } = link;
  const orphans: number[] = [];
  const met = new Uint8Array(parent.rowCount);
  rows.forEach((row, i) => {
    if (row === none) orphans.push(child.sheetRow[i] ?? 0);
    else met[row] = 1;
  });
  const tables = { table: child.name ?? child.place, parent: parent.name ?? parent.place };
  if (orphans.length * 2 > rows.length) {
    const details = { ...tables, parentKey: link.parentKey.name, orphans: orphans.length, rows: rows.length };
    throw new InputError([inputProblem("join-mismatch", child.place, { column: link.key.name, details })]);
  }
  const notes: ReadNote[] = [];
  if (orphans.length > 0) {
    notes.push({
      id: "rows-without-parent",
      values: { ...tables, count: orphans.length, rows: shownRows(orphans) },
    });
  }
  const childless = met.reduce((sum, found) => sum + 1 - found, 0);
  if (childless > 0) notes.push({ id: "parents-without-rows", values: { ...tables, count: childless } });
  return notes;
}

/** Rows of the child itself that repeat a form's key: they are kept, since a check for repeated rows follows. */
function ownKeyNotes(rows: Part): ReadNote[] {
  const key = formColumn(rows, "key");
  if (key === undefined) return [];
  const repeated = [...indexOf(key).repeats.values()].flat().map((row) => rows.sheetRow[row] ?? 0);
  if (repeated.length === 0) return [];
  const values = {
    table: rows.name ?? rows.place,
    count: repeated.length,
    rows: shownRows(repeated.sort((a, b) => a - b)),
  };
  return [{ id: "repeated-rows", values }];
}

/** The link's rows seen from the first table of the chain: the way through the tables between. */
function through(before: Uint32Array | null, rows: Uint32Array): Uint32Array {
  return before === null ? rows : Uint32Array.from(before, (row) => (row === none ? none : (rows[row] ?? none)));
}

/**
 * Joins a table's parents to it, the nearest first. A row of the child stays where it is and gets the columns of its parent's row; a
 * row without a parent gets empty cells there, and is counted in a note. A parent's column whose name is taken
 * bears its table's name before it. Throws InputError for keys that two different rows of a parent have, and where most rows
 * find no parent.
 */
export function joinParents(rows: Part, chain: readonly Link[], wants: (name: string) => boolean): Joined {
  const nothing = new Uint32Array(rows.rowCount);
  const columns = rows.columns.map((column) => (wants(column.name) ? column : emptyColumn(column.name, nothing)));
  const taken = new Set(columns.map((column) => column.name));
  const notes: ReadNote[] = [...ownKeyNotes(rows)];
  const problems: InputProblem[] = [];
  let way: Uint32Array | null = null;
  for (const link of chain) {
    const { parent } = link;
    const index = indexOf(link.parentKey);
    const direct = parentRows(link, index);
    way = through(way, direct);
    const named = parent.columns.map((column) => {
      const name = taken.has(column.name) ? `${parent.name}/${column.name}` : column.name;
      return { column, name };
    });
    const kept = named.filter(({ name }) => wants(name)).map(({ column }) => column);
    const onward = chain.find((next) => next.child === parent)?.key;
    const repeated = repeatedKeys(link, index, onward === undefined ? kept : [...kept, onward]);
    problems.push(...repeated.problems);
    notes.push(...orphanNotes(link, direct), ...repeated.notes);
    const sheetRow = Uint32Array.from(way, (row) => (row === none ? 0 : (parent.sheetRow[row] ?? 0)));
    const origin = { file: parent.place, sheetRow };
    for (const { column, name } of named) {
      if (taken.has(name)) continue;
      taken.add(name);
      const spreadOut = wants(name) ? spread(column, way, name, origin) : emptyColumn(name, nothing);
      columns.push(spreadOut);
    }
  }
  if (problems.length > 0) throw new InputError(problems);
  return { columns, notes };
}
