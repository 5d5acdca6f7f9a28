/** A published sum: whole-number coefficients of the unknown counts of every atom, and what they add up to. */
export interface Statement {
  readonly coefficients: readonly number[];
  readonly total: number;
}

interface Row {
  readonly pivot: number;
  readonly entries: number[];
  total: number;
}

function divisor(a: number, b: number): number {
  let [x, y] = [Math.abs(a), Math.abs(b)];
  while (y !== 0) [x, y] = [y, x % y];
  return x;
}

/** Whole numbers only, so that nothing is lost; a number too large for that ends the attack with an error. */
function checked(value: number): number {
  if (!Number.isSafeInteger(value)) throw new Error("The elimination has left the whole numbers that are exact.");
  return value;
}

/** Takes a multiple of a row away so that the entry at its pivot is gone, and divides by what all entries share. */
function eliminate(entries: number[], total: number, row: Row): { entries: number[]; total: number } {
  const own = entries[row.pivot] as number;
  if (own === 0) return { entries, total };
  const theirs = row.entries[row.pivot] as number;
  const next = entries.map((entry, k) => checked(entry * theirs - own * (row.entries[k] as number)));
  const shared = next.reduce((gcd, entry) => divisor(gcd, entry), 0) || 1;
  return { entries: next.map((entry) => entry / shared), total: (total * theirs - own * row.total) / shared };
}

/**
 * What follows from published sums by adding and subtracting: exact elimination over the rational numbers, held as whole
 * numbers without common divisor. It knows nothing of the program's own audit.
 */
export class Solver {
  readonly #rows: Row[] = [];

  constructor(statements: readonly Statement[]) {
    for (const { coefficients, total } of statements) {
      const left = this.#reduced([...coefficients], total);
      const pivot = left.entries.findIndex((entry) => entry !== 0);
      if (pivot >= 0) this.#rows.push({ pivot, ...left });
    }
  }

  #reduced(entries: number[], total: number): { entries: number[]; total: number } {
    return this.#rows.reduce((left, row) => eliminate(left.entries, left.total, row), { entries, total });
  }

  /** The sum over some atoms, where it follows from what is published; null where it does not. */
  sumOf(coefficients: readonly number[]): number | null {
    // A column of its own tells by what the sum was multiplied on the way.
    let entries = [...coefficients];
    let [total, scale] = [0, 1];
    for (const row of this.#rows) {
      const own = entries[row.pivot] as number;
      if (own === 0) continue;
      const theirs = row.entries[row.pivot] as number;
      entries = entries.map((entry, k) => checked(entry * theirs - own * (row.entries[k] as number)));
      total = total * theirs - own * row.total;
      scale *= theirs;
      const shared = divisor(
        entries.reduce((gcd, entry) => divisor(gcd, entry), 0),
        scale,
      );
      if (shared > 1) {
        entries = entries.map((entry) => entry / shared);
        scale /= shared;
        total /= shared;
      }
    }
    return entries.every((entry) => entry === 0) ? -total / scale : null;
  }
}

/**
 * Bounds on the count of every atom, from sums of counts that lie between 0 and the atom's children: each sum is gone
 * through until nothing tightens (interval propagation in whole numbers).
 */
export function boundsOf(
  statements: readonly Statement[],
  sizes: readonly number[],
): { readonly low: number[]; readonly high: number[] } {
  const low = sizes.map(() => 0);
  const high = [...sizes];
  for (let changed = true; changed; ) {
    changed = false;
    for (const { coefficients, total } of statements) {
      const used = [...coefficients.keys()].filter((k) => coefficients[k] !== 0);
      if (used.some((k) => coefficients[k] !== 1)) continue;
      const least = used.reduce((sum, k) => sum + (low[k] as number), 0);
      const most = used.reduce((sum, k) => sum + (high[k] as number), 0);
      for (const k of used) {
        const from = total - (most - (high[k] as number));
        const to = total - (least - (low[k] as number));
        if (from > (low[k] as number)) [low[k], changed] = [from, true];
        if (to < (high[k] as number)) [high[k], changed] = [to, true];
      }
    }
  }
  return { low, high };
}
