import { createHash } from "node:crypto";

/** The finest sets of children that some splits tell apart. */
export interface Atoms {
  readonly count: number;
  /** The atom of every child. */
  readonly of: Int32Array;
  /** The code of every atom in each split; -1 for children without a group there. */
  readonly codes: readonly Int32Array[];
}

/** Atoms of all children by several splits, given as a code a child; numbered in the order in which they are met. */
export function atomsOf(count: number, splits: readonly ArrayLike<number>[]): Atoms {
  const of = new Int32Array(count);
  for (const codes of splits) {
    const numbers = new Map<number, number>();
    for (let i = 0; i < count; i++) {
      // Pairs of numbers below 2^26 stay exact.
      const pair = (of[i] as number) * 67_108_864 + (codes[i] as number) + 1;
      const known = numbers.get(pair);
      if (known === undefined) numbers.set(pair, numbers.size);
      of[i] = known ?? numbers.size - 1;
    }
  }
  let atoms = 0;
  for (let i = 0; i < count; i++) atoms = Math.max(atoms, (of[i] as number) + 1);
  const own = splits.map(() => new Int32Array(atoms).fill(-1));
  for (let i = 0; i < count; i++) {
    splits.forEach((codes, split) => {
      (own[split] as Int32Array)[of[i] as number] = codes[i] as number;
    });
  }
  return { count: atoms, of, codes: own };
}

/** How many children of a domain are in each atom. */
export function atomSizes({ count, of }: Pick<Atoms, "count" | "of">, inDomain: Uint8Array): Float64Array {
  const sizes = new Float64Array(count);
  for (let i = 0; i < of.length; i++) {
    if (inDomain[i] === 1) sizes[of[i] as number] = (sizes[of[i] as number] as number) + 1;
  }
  return sizes;
}

/** Tells equal sets of children: SHA-256 of the marks. */
export function digest(members: Uint8Array): string {
  return createHash("sha256").update(members).digest("base64");
}
