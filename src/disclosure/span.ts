/**
 * The linear span of published groups. A published group tells the sum of anything over its children; what can be worked out
 * from several of them by adding and subtracting is the span of their indicator vectors over the atoms (the finest sets of
 * children that the groups tell apart).
 *
 * Arithmetic is modulo a prime below 2^26, so that products stay exact in a double. A vector in the rational span is in the
 * span modulo the prime too unless the prime divides a denominator, which the small determinants here do not reach; a vector
 * outside it passes for one inside with a probability of about 1 in 67 million, which errs on the side of withholding.
 */
const prime = 67_108_859;

const times = (a: number, b: number): number => (a * b) % prime;

/** a^(p - 2) is the inverse of a modulo the prime p (Fermat). */
function inverse(a: number): number {
  let [result, base, power] = [1, a, prime - 2];
  while (power > 0) {
    if (power % 2 === 1) result = times(result, base);
    base = times(base, base);
    power = Math.floor(power / 2);
  }
  return result;
}

interface Row {
  /** Position of the entry that is 1 here and 0 in every other row. */
  readonly pivot: number;
  readonly entries: Float64Array;
  /** The row as a combination of the published vectors. */
  readonly combination: Float64Array;
}

function subtract(from: Float64Array, factor: number, row: Float64Array): void {
  for (let k = 0; k < from.length; k++) {
    const entry = row[k] as number;
    if (entry !== 0) from[k] = ((from[k] as number) + times(prime - factor, entry)) % prime;
  }
}

/** A reduced basis of the span of some vectors of the same length. */
export class Span {
  readonly #rows: Row[] = [];
  readonly #count: number;

  constructor(vectors: readonly ArrayLike<number>[]) {
    this.#count = vectors.length;
    vectors.forEach((vector, which) => {
      this.#add(vector, which);
    });
  }

  get rank(): number {
    return this.#rows.length;
  }

  #add(vector: ArrayLike<number>, which: number): void {
    const entries = Float64Array.from(vector);
    const combination = new Float64Array(this.#count);
    combination[which] = 1;
    for (const row of this.#rows) {
      const factor = entries[row.pivot] as number;
      if (factor === 0) continue;
      subtract(entries, factor, row.entries);
      subtract(combination, factor, row.combination);
    }
    const pivot = entries.findIndex((entry) => entry !== 0);
    if (pivot < 0) return;
    const scale = inverse(entries[pivot] as number);
    for (let k = 0; k < entries.length; k++) entries[k] = times(entries[k] as number, scale);
    for (let k = 0; k < combination.length; k++) combination[k] = times(combination[k] as number, scale);
    for (const row of this.#rows) {
      const factor = row.entries[pivot] as number;
      if (factor === 0) continue;
      subtract(row.entries, factor, entries);
      subtract(row.combination, factor, combination);
    }
    this.#rows.push({ pivot, entries, combination });
  }

  /**
   * The published vectors that a vector can be worked out from, as positions in the list; null where it cannot be worked out.
   * The coefficients follow from the pivots alone, so that most vectors are turned down at the first entry that differs.
   * `places`: where the vector is not 0.
   */
  sourcesOf(vector: ArrayLike<number>, places: readonly number[]): number[] | null {
    const used = this.#rows.filter((row) => vector[row.pivot] !== 0);
    if (used.length === 0) return null;
    const agrees = (k: number): boolean => {
      let sum = 0;
      for (const { pivot, entries } of used) sum += times(vector[pivot] as number, entries[k] as number);
      return sum % prime === vector[k];
    };
    // The vector's own places first: there most vectors outside the span are found out.
    if (!places.every(agrees)) return null;
    for (let k = 0; k < vector.length; k++) if (!agrees(k)) return null;
    const combination = new Float64Array(this.#count);
    for (const row of used) subtract(combination, prime - (vector[row.pivot] as number), row.combination);
    return [...combination.keys()].filter((which) => combination[which] !== 0);
  }

  /** Every basis vector that holds zeros and ones only: sets of children that come out of the published ones by elimination. */
  sets(): readonly Float64Array[] {
    return this.#rows.map(({ entries }) => entries).filter((entries) => entries.every((one) => one === 0 || one === 1));
  }
}
