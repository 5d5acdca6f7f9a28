import { Buffer, isUtf8 } from "node:buffer";
import { likelyCodePage } from "./code-page.js";
import { kindOf, startsWith } from "./kind.js";
import type { ReadOptions } from "./options.js";
import { InputError, inputProblem, RowProblems } from "./problem.js";
import { strayBytes } from "./stray-bytes.js";
import type { Encoding } from "./table.js";

const chunkBytes = 65536;
/** Bytes looked at for the zeros of UTF-16 without a byte order mark. */
const startLength = 4096;

export interface FoundEncoding {
  readonly encoding: Encoding;
  /** First byte after the byte order mark. */
  readonly start: number;
  /** True where neither the bytes nor the settings say so. */
  readonly assumed: boolean;
}

function byMark(bytes: Uint8Array): { readonly encoding: Encoding; readonly start: number } | null {
  if (startsWith(bytes, [0xff, 0xfe])) return { encoding: "utf-16le", start: 2 };
  if (startsWith(bytes, [0xfe, 0xff])) return { encoding: "utf-16be", start: 2 };
  return startsWith(bytes, [0xef, 0xbb, 0xbf]) ? { encoding: "utf-8", start: 3 } : null;
}

/** UTF-16 without a mark: of Western text, nearly every second byte is zero. */
function byZeros(bytes: Uint8Array): Encoding | null {
  const start = bytes.subarray(0, Math.min(startLength, bytes.length - (bytes.length % 2)));
  const zeros = [0, 0];
  start.forEach((byte, i) => {
    if (byte === 0) zeros[i % 2] = (zeros[i % 2] ?? 0) + 1;
  });
  const [even = 0, odd = 0] = zeros.map((count) => count / (start.length / 2));
  if (odd > 0.4 && even < 0.05) return "utf-16le";
  return even > 0.4 && odd < 0.05 ? "utf-16be" : null;
}

/**
 * UTF-8 but for a few bytes is UTF-8 with a fault, and no code page, which would split one label into two. In a code page two signs
 * beyond ASCII seldom follow each other so that they form a sign of UTF-8.
 */
function refuseStrayBytes(bytes: Uint8Array, start: number, file: string): void {
  const { signs, strays, lines } = strayBytes(bytes, start);
  if (signs < 2 || strays > signs) return;
  const found = new RowProblems();
  for (const row of lines) found.add(() => inputProblem("stray-byte", file, { row }));
  throw new InputError(found.list());
}

/**
 * How the bytes are to be read: a byte order mark decides; then what the settings state; otherwise strict UTF-8, UTF-16 by its zeros,
 * and last a code page, which is an assumption. Throws InputError for a file that is not text, or not of the stated encoding.
 */
export function findEncoding(bytes: Uint8Array, file: string, options: ReadOptions): FoundEncoding {
  const marked = byMark(bytes);
  // With a byte order mark the file is marked as UTF-8 and may still not be.
  if (marked !== null && (marked.encoding !== "utf-8" || isUtf8(bytes))) return { ...marked, assumed: false };
  const start = marked?.start ?? 0;
  const stated = options.encoding;
  if (stated?.startsWith("utf-16")) return { encoding: stated, start, assumed: false };
  const kind = kindOf(bytes);
  const wide = kind === "text" ? byZeros(bytes) : null;
  if (wide !== null && stated === undefined) return { encoding: wide, start, assumed: false };
  if (kind !== "text" || bytes.includes(0)) {
    const format = kind === "text" ? "other" : kind;
    throw new InputError([inputProblem("not-text", file, { details: { format } })]);
  }
  if (stated === "utf-8" && !isUtf8(bytes)) {
    throw new InputError([inputProblem("encoding-contradicted", file, { details: { encoding: "UTF-8" } })]);
  }
  if (stated !== undefined) return { encoding: stated, start, assumed: false };
  if (isUtf8(bytes)) return { encoding: "utf-8", start, assumed: false };
  refuseStrayBytes(bytes, start, file);
  return { encoding: likelyCodePage(bytes, options.language), start, assumed: true };
}

/** The file's bytes from `start` as UTF-8 in small pieces, so that no second copy of the whole file is made. */
export function* utf8Chunks(bytes: Uint8Array, encoding: Encoding, start: number): Generator<Buffer> {
  const decoder = encoding === "utf-8" ? null : new TextDecoder(encoding);
  for (let from = start; from < bytes.length; from += chunkBytes) {
    const piece = bytes.subarray(from, from + chunkBytes);
    yield decoder === null
      ? Buffer.from(piece.buffer, piece.byteOffset, piece.length)
      : Buffer.from(decoder.decode(piece, { stream: true }), "utf-8");
  }
  const rest = decoder?.decode() ?? "";
  if (rest !== "") yield Buffer.from(rest, "utf-8");
}

/** The first bytes of the file as text, for looking at the header; `whole` is true when nothing was left out. */
export function decodeStart(
  bytes: Uint8Array,
  encoding: Encoding,
  start: number,
  limit: number,
): { readonly text: string; readonly whole: boolean } {
  const text = new TextDecoder(encoding).decode(bytes.subarray(start, start + limit), { stream: true });
  return { text, whole: bytes.length <= start + limit };
}
