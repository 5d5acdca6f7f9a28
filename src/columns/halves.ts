import type { TextTable } from "../read/table.js";
import { type Note, note } from "../settings/notes.js";
import type { Role, RoleSpec } from "../settings/roles.js";
import { showValue } from "../settings/show-value.js";
import { cellsOf } from "./cells.js";
import { missingTexts } from "./missing.js";
import { heightWords, lengthWords } from "./role-names.js";
import { speaksOf } from "./words.js";

/** Which of its two columns each row of a role is read from: 0 neither, 1 the first, 2 the second. */
interface Halves {
  readonly from: Uint8Array;
  /** Rows in which both hold a value: the first is taken. */
  readonly both: number;
}

function halvesOf(table: TextTable, spec: RoleSpec): Halves | null {
  const first = cellsOf(table, spec.column);
  const second = spec.otherwise === undefined ? null : cellsOf(table, spec.otherwise);
  if (first === null || second === null) return null;
  const [empty, otherEmpty] = [missingTexts(first, spec.missing), missingTexts(second, spec.missing)];
  let both = 0;
  const from = Uint8Array.from({ length: table.rowCount }, (_, row) => {
    const [here, there] = [empty[first.codes[row] ?? 0] !== 1, otherEmpty[second.codes[row] ?? 0] !== 1];
    if (here && there) both += 1;
    return here ? 1 : there ? 2 : 0;
  });
  return { from, both };
}

const rowsIn = (from: Uint8Array, half: number): number => from.reduce((sum, one) => sum + (one === half ? 1 : 0), 0);

/** Says of every role that is read from two columns how many rows come from each. */
export function halvesNotes(table: TextTable, specs: ReadonlyMap<Role, RoleSpec>): Note[] {
  return [...specs].flatMap(([role, spec]) => {
    const halves = halvesOf(table, spec);
    if (halves === null) return [];
    const { from, both } = halves;
    const names = { column: showValue(spec.column), otherwise: showValue(spec.otherwise ?? "") };
    return [note("halves-as-one", { role, ...names, first: rowsIn(from, 1), second: rowsIn(from, 2), both })];
  });
}

/** How children were measured, as the names of two columns tell it. */
export interface PositionFromColumns {
  /** 0 not measured, 1 lying, 2 standing. */
  readonly position: Uint8Array;
  readonly note: Note;
}

/**
 * The position of every child where lengths stand in one column and heights in another, by the columns' names, and no column of its own
 * gives it: what stands in the column of lengths was measured lying.
 */
export function positionFromColumns(table: TextTable, specs: ReadonlyMap<Role, RoleSpec>): PositionFromColumns | null {
  const spec = specs.get("height");
  if (spec?.otherwise === undefined || specs.has("position")) return null;
  const names = [spec.column, spec.otherwise];
  const isLength = names.map((name) => speaksOf(name, lengthWords) && !speaksOf(name, heightWords));
  const isHeight = names.map((name) => speaksOf(name, heightWords) && !speaksOf(name, lengthWords));
  const lying = isLength.indexOf(true) + 1;
  const standing = isHeight.indexOf(true) + 1;
  const halves = lying === 0 || standing === 0 ? null : halvesOf(table, spec);
  if (halves === null) return null;
  const name = (half: number): string => showValue(names[half - 1] ?? "");
  return {
    position: halves.from.map((half) => (half === lying ? 1 : half === standing ? 2 : 0)),
    note: note("position-from-columns", { lying: name(lying), standing: name(standing) }),
  };
}
