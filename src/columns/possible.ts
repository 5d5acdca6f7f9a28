import type { Cells } from "./cells.js";

/**
 * Cells outside what is possible are set aside, and the file is read, where they are few: up to this share of the filled cells of
 * their column, and one cell in any column with this many. Own judgement: a slip in a hundred cells or two is what careful entry
 * leaves, while more of them say that the column's unit or meaning was misunderstood, and then the user is asked.
 */
const mostSetAside = { share: 0.02, oneFrom: 20 } as const;

/** Nobody of 18 years is a child: from here on an age is no child's. */
export const mostMonthsOfChild = 216;

/** Whether so few of the filled cells are impossible that they can be set aside one by one. */
export function isFew(impossible: number, filled: number): boolean {
  return impossible <= filled * mostSetAside.share || (impossible === 1 && filled >= mostSetAside.oneFrom);
}

/** A column's distinct numbers, parted. */
export interface Parted {
  /** NaN where the number was set aside. */
  readonly inside: Float64Array;
  /** The numbers set aside, NaN elsewhere; null where there are none, or too many. */
  readonly outside: Float64Array | null;
}

/** Parts the numbers outside what is possible from the others, where they are few. */
export function partOff(cells: Cells, numbers: Float64Array, isOutside: (value: number) => boolean): Parted {
  let [impossible, filled] = [0, 0];
  numbers.forEach((value, index) => {
    if (Number.isNaN(value)) return;
    const rows = cells.counts[index] ?? 0;
    filled += rows;
    if (isOutside(value)) impossible += rows;
  });
  if (impossible === 0 || !isFew(impossible, filled)) return { inside: numbers, outside: null };
  return {
    inside: numbers.map((value) => (isOutside(value) ? Number.NaN : value)),
    outside: numbers.map((value) => (isOutside(value) ? value : Number.NaN)),
  };
}
