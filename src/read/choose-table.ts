import { chainFrom, type Link, partNamed } from "./links.js";
import type { ReadOptions } from "./options.js";
import type { Part } from "./part.js";
import { InputError, inputProblem } from "./problem.js";
import type { ReadNote } from "./table.js";

/** The table with one row a child, and its parents. */
export interface ChosenTable {
  readonly rows: Part;
  readonly chain: readonly Link[];
  readonly notes: readonly ReadNote[];
}

/** Known column names that make a table one of a survey. */
const namesInTable = 2;

function knownNames(part: Part, recognises: ((name: string) => boolean) | undefined): number {
  return part.columns.filter((column) => recognises?.(column.name) === true).length;
}

function hasMeasure(part: Part, options: ReadOptions): boolean {
  return part.columns.some((column) => options.isMeasure?.(column.name) === true);
}

/** True where every column that the settings name stands in the table. */
function holdsAll(part: Part, wanted: ReadonlySet<string> | undefined): boolean {
  const names = new Set(part.columns.map((column) => column.name));
  return wanted !== undefined && [...wanted].every((name) => names.has(name));
}

/**
 * The table to be taken where nobody says which: the only one with known column names; or, of several, the only one with a
 * child's measurements, if it holds all that is asked for or the others can be joined to it. Null where that is unclear.
 */
function likely(parts: readonly Part[], file: string, options: ReadOptions): Part | null {
  const [only, another] = parts;
  if (another === undefined) return only ?? null;
  const known = parts.filter((part) => knownNames(part, options.recognises) >= namesInTable);
  if (known.length === 1) return known[0] ?? null;
  const [measured, alsoMeasured] = known.filter((part) => hasMeasure(part, options));
  if (measured === undefined || alsoMeasured !== undefined) return null;
  const settled = holdsAll(measured, options.columns) || chainFrom(measured, parts, file, options).length > 0;
  return settled ? measured : null;
}

function unclear(parts: readonly Part[], broken: readonly Part[], file: string, workbook: boolean): InputError {
  if (broken.length > 0) return new InputError(broken.flatMap((part) => part.problems));
  const sheets = parts.map((part) => part.name ?? "");
  return new InputError([inputProblem(workbook ? "sheet-unclear" : "tables-unclear", file, { details: { sheets } })]);
}

/** Says which row was taken for the header, where others stand above it, and which columns are not read at all. */
export function headerNotes({ name, place, headerRow, rowsAbove = 0, nested = [] }: Part): ReadNote[] {
  const above = { table: name ?? place, row: headerRow, count: rowsAbove };
  const unread = { columns: nested.join(", "), count: nested.length };
  return [
    ...(rowsAbove === 0 ? [] : [{ id: "header-row" as const, values: above }]),
    ...(nested.length === 0 ? [] : [{ id: "nested-columns-unread" as const, values: unread }]),
  ];
}

function notesOn(rows: Part, chain: readonly Link[], parts: readonly Part[], stated: boolean): ReadNote[] {
  const notes: ReadNote[] = [];
  const used = new Set([rows, ...chain.map((link) => link.parent)]);
  const others = parts.filter((part) => !used.has(part)).map((part) => part.name ?? "");
  if (!stated && others.length > 0) {
    notes.push({ id: "table-chosen", values: { table: rows.name ?? "", others: others.join(", ") } });
  }
  for (const { child, parent, key, by } of chain) {
    if (by !== "name") continue;
    const values = { table: child.name ?? "", parent: parent.name ?? "", column: key.name };
    notes.push({ id: "joined-by-name", values });
  }
  for (const part of used) notes.push(...headerNotes(part));
  for (const part of used) {
    if (part.hiddenRows === 0) continue;
    notes.push({ id: "hidden-rows", values: { table: part.name ?? part.place, count: part.hiddenRows } });
  }
  return notes;
}

/**
 * Of the tables of a workbook, archive or folder, the one with one row a child and the parents to be joined to it. Throws
 * InputError where that is not clear, and where a table that is needed has something wrong with it.
 */
export function chooseTable(all: readonly Part[], file: string, options: ReadOptions, workbook: boolean): ChosenTable {
  const filled = all.filter((part) => part.headerRow > 0);
  const broken = all.filter((part) => part.headerRow === 0 && part.problems.length > 0);
  const stated = options.sheet === undefined ? null : partNamed(all, options.sheet, file);
  if (stated === null && filled.length === 0) {
    const problems = broken.flatMap((part) => part.problems);
    throw new InputError(problems.length > 0 ? problems : [inputProblem("empty-file", file)]);
  }
  const rows = stated ?? likely(filled, file, options);
  if (rows === null) throw unclear(filled, broken, file, workbook);
  const chain = chainFrom(rows, filled, file, options);
  const used = [rows, ...chain.map((link) => link.parent)];
  const problems = used.flatMap((part) => part.problems);
  if (problems.length > 0) throw new InputError(problems);
  if (rows.rowCount === 0) throw new InputError([inputProblem("no-rows", rows.place)]);
  return { rows, chain, notes: notesOn(rows, chain, filled, stated !== null) };
}
