/** Solves A X = B for square A (row by row) by elimination with row exchange; null when A has no inverse. */
export function solve(
  matrix: readonly (readonly number[])[],
  right: readonly (readonly number[])[],
): number[][] | null {
  const size = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...(right[i] as readonly number[])]);
  const largest = Math.max(...rows.map((row) => Math.max(...row.slice(0, size).map(Math.abs))));
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let i = column + 1; i < size; i++) {
      if (Math.abs(at(rows, i, column)) > Math.abs(at(rows, pivot, column))) pivot = i;
    }
    if (!(Math.abs(at(rows, pivot, column)) > largest * 1e-13)) return null;
    [rows[column], rows[pivot]] = [rows[pivot] as number[], rows[column] as number[]];
    const lead = rows[column] as number[];
    for (let i = 0; i < size; i++) {
      if (i === column) continue;
      const row = rows[i] as number[];
      const factor = (row[column] as number) / (lead[column] as number);
      if (factor !== 0)
        for (let j = column; j < row.length; j++) row[j] = (row[j] as number) - factor * (lead[j] as number);
    }
  }
  return rows.map((row, i) => row.slice(size).map((value) => value / (row[i] as number)));
}

function at(rows: readonly (readonly number[])[], i: number, j: number): number {
  return (rows[i] as readonly number[])[j] as number;
}
