/** The positions of every code, in ascending order: one entry a code from 0 to codeCount - 1. Negative codes are in none. */
export function rowsByCode(codes: Int32Array, codeCount: number): Int32Array[] {
  const sizes = new Int32Array(codeCount);
  for (let i = 0; i < codes.length; i++) {
    const code = codes[i] as number;
    if (code >= 0) sizes[code] = (sizes[code] as number) + 1;
  }
  const rows = Array.from(sizes, (size) => new Int32Array(size));
  const filled = new Int32Array(codeCount);
  for (let i = 0; i < codes.length; i++) {
    const code = codes[i] as number;
    if (code < 0) continue;
    const place = filled[code] as number;
    (rows[code] as Int32Array)[place] = i;
    filled[code] = place + 1;
  }
  return rows;
}
