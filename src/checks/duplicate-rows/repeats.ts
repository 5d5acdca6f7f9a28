/**
 * Codes of equal values, refined step by step: two rows share a code when they agree in every column so far. Each step
 * is one pass with a hash, so any number of columns costs time in proportion to the rows.
 */
export function refine(codes: Int32Array, values: ArrayLike<number>): Int32Array {
  const ofValue = new Map<number, number>();
  const valueCodes = new Int32Array(codes.length);
  for (let i = 0; i < codes.length; i++) {
    // A Map treats NaN as equal to itself, so rows without a value agree with each other.
    const value = values[i] as number;
    let code = ofValue.get(value);
    if (code === undefined) {
      code = ofValue.size;
      ofValue.set(value, code);
    }
    valueCodes[i] = code;
  }
  const ofPair = new Map<number, number>();
  return codes.map((code, i) => {
    if (code < 0) return -1;
    const key = code * ofValue.size + (valueCodes[i] as number);
    let refined = ofPair.get(key);
    if (refined === undefined) {
      refined = ofPair.size;
      ofPair.set(key, refined);
    }
    return refined;
  });
}

/** Rows of each code; negative codes are left out. */
export function sizesOf(codes: Int32Array): Int32Array {
  let last = -1;
  for (const code of codes) if (code > last) last = code;
  const sizes = new Int32Array(last + 1);
  for (const code of codes) if (code >= 0) sizes[code] = (sizes[code] as number) + 1;
  return sizes;
}

/** Pairs of rows that share a code: sum of c (c - 1) / 2. */
export function pairsOf(codes: Int32Array): number {
  let pairs = 0;
  for (const size of sizesOf(codes)) pairs += (size * (size - 1)) / 2;
  return pairs;
}

/** For each coarse code, the pairs of rows that share a fine code too; every fine code lies within one coarse code. */
export function pairsWithin(fine: Int32Array, coarse: Int32Array): Float64Array {
  const sizes = sizesOf(fine);
  const pairs = new Float64Array(sizesOf(coarse).length);
  const counted = new Uint8Array(sizes.length);
  for (let i = 0; i < fine.length; i++) {
    const code = fine[i] as number;
    const within = coarse[i] as number;
    if (code < 0 || within < 0 || counted[code] === 1) continue;
    counted[code] = 1;
    const size = sizes[code] as number;
    pairs[within] = (pairs[within] as number) + (size * (size - 1)) / 2;
  }
  return pairs;
}
