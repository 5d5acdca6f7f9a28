import { solve } from "./design/linear-algebra.js";

/** A small square matrix, row by row. */
export type Matrix = readonly (readonly number[])[];
export type Vector = readonly number[];

export const zeros = (size: number): number[][] => Array.from({ length: size }, () => new Array<number>(size).fill(0));

/** Sum of two matrices, the second times a factor. */
export const plus = (a: Matrix, b: Matrix, factor = 1): number[][] =>
  a.map((row, i) => row.map((value, j) => value + factor * (b[i]?.[j] ?? 0)));

export const times = (a: Matrix, x: Vector): number[] =>
  a.map((row) => row.reduce((sum, value, j) => sum + value * (x[j] ?? 0), 0));

export const dot = (a: Vector, b: Vector): number => a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0);

/** Null where there is none. */
export function inverse(a: Matrix): number[][] | null {
  const size = a.length;
  return solve(
    a,
    Array.from({ length: size }, (_, i) => Array.from({ length: size }, (_, j) => (i === j ? 1 : 0))),
  );
}

/** The lower triangle C with C C' = A; a diagonal that would be negative by rounding counts as nought. */
export function choleskyOf(a: Matrix): number[][] {
  const size = a.length;
  const c = zeros(size);
  for (let i = 0; i < size; i++) {
    const row = c[i] as number[];
    for (let j = 0; j <= i; j++) {
      const other = c[j] as number[];
      let rest = a[i]?.[j] ?? 0;
      for (let k = 0; k < j; k++) rest -= (row[k] as number) * (other[k] as number);
      if (i === j) row[j] = Math.sqrt(Math.max(0, rest));
      else row[j] = (other[j] as number) > 0 ? rest / (other[j] as number) : 0;
    }
  }
  return c;
}
