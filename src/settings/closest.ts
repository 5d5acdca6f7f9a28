/** Optimal string alignment distance: insertions, deletions, replacements and swaps of neighbours. */
function distance(a: string, b: string): number {
  const rows: number[][] = [Array.from({ length: b.length + 1 }, (_, j) => j)];
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const replaced = at(rows, i - 1, j - 1) + (a[i - 1] === b[j - 1] ? 0 : 1);
      let least = Math.min(at(rows, i - 1, j) + 1, (row[j - 1] ?? 0) + 1, replaced);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) least = Math.min(least, at(rows, i - 2, j - 2) + 1);
      row.push(least);
    }
    rows.push(row);
  }
  return at(rows, a.length, b.length);
}

function at(rows: readonly (readonly number[])[], i: number, j: number): number {
  return rows[i]?.[j] ?? 0;
}

/** The known word nearest to a misspelt one, or null when none is near: a third of its letters may differ. */
export function closest(word: string, known: readonly string[]): string | null {
  const lower = word.toLowerCase().slice(0, 100);
  let best: string | null = null;
  let least = Math.max(1, Math.floor(lower.length / 3)) + 1;
  for (const candidate of known) {
    if (Math.abs(candidate.length - lower.length) >= least) continue;
    const steps = distance(lower, candidate.toLowerCase());
    if (steps < least) {
      least = steps;
      best = candidate;
    }
  }
  return best;
}
