/** What a text's bytes say about UTF-8: its signs of several bytes, and the lines with bytes that are none. */
export interface StrayBytes {
  readonly signs: number;
  /** Bytes that belong to no sign. */
  readonly strays: number;
  /** Lines from 1, each once. */
  readonly lines: readonly number[];
}

/** Length of the sign of UTF-8 that begins here; 0 where the bytes form none (RFC 3629, section 4). */
function signAt(bytes: Uint8Array, at: number): number {
  const first = bytes[at] as number;
  const length =
    first >= 0xc2 && first <= 0xdf ? 2 : first >= 0xe0 && first <= 0xef ? 3 : first >= 0xf0 && first <= 0xf4 ? 4 : 0;
  if (length === 0) return 0;
  for (let k = 1; k < length; k++) {
    const next = bytes[at + k] ?? 0;
    if (next < 0x80 || next > 0xbf) return 0;
  }
  return length;
}

/** Looks for the bytes that are not UTF-8. */
export function strayBytes(bytes: Uint8Array, start: number): StrayBytes {
  const lines: number[] = [];
  let [signs, strays, line] = [0, 0, 1];
  for (let at = start; at < bytes.length; ) {
    const byte = bytes[at] as number;
    if (byte < 0x80) {
      if (byte === 0x0a) line += 1;
      at += 1;
      continue;
    }
    const length = signAt(bytes, at);
    if (length > 0) signs += 1;
    else {
      strays += 1;
      if (lines.at(-1) !== line) lines.push(line);
    }
    at += Math.max(1, length);
  }
  return { signs, strays, lines };
}
