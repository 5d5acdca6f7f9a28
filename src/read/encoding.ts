import { Buffer, isUtf8 } from "node:buffer";
import { InputError, inputProblem } from "./problem.js";
import type { TextTable } from "./table.js";

export type Encoding = TextTable["encoding"];

const chunkBytes = 65536;

/** First bytes of files that are not text but are often handed over as if they were. */
const magics: readonly { readonly format: string; readonly bytes: readonly number[] }[] = [
  { format: "xlsx", bytes: [0x50, 0x4b, 0x03, 0x04] },
  { format: "xls", bytes: [0xd0, 0xcf, 0x11, 0xe0] },
  { format: "pdf", bytes: [0x25, 0x50, 0x44, 0x46] },
  { format: "gzip", bytes: [0x1f, 0x8b] },
];

function startsWith(bytes: Uint8Array, start: readonly number[]): boolean {
  return start.every((byte, i) => bytes[i] === byte);
}

/**
 * How the bytes are to be read: a byte order mark decides; otherwise strict UTF-8; otherwise Windows-1252, the code page
 * of European spreadsheets. `start` is the first byte after the mark. Throws InputError for a file that is not text.
 */
export function findEncoding(bytes: Uint8Array, file: string): { readonly encoding: Encoding; readonly start: number } {
  if (startsWith(bytes, [0xff, 0xfe])) return { encoding: "utf-16le", start: 2 };
  if (startsWith(bytes, [0xfe, 0xff])) return { encoding: "utf-16be", start: 2 };
  const magic = magics.find((known) => startsWith(bytes, known.bytes));
  if (magic !== undefined || bytes.includes(0)) {
    throw new InputError([inputProblem("not-text", file, { details: { format: magic?.format ?? "other" } })]);
  }
  const start = startsWith(bytes, [0xef, 0xbb, 0xbf]) ? 3 : 0;
  return { encoding: isUtf8(bytes) ? "utf-8" : "windows-1252", start };
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

/** The first word that holds a byte beyond ASCII, decoded as Windows-1252. */
export function sampleWord(bytes: Uint8Array, start: number): string | undefined {
  const at = bytes.findIndex((byte, i) => byte >= 0x80 && i >= start);
  if (at < 0) return undefined;
  const from = Math.max(start, at - 24);
  const text = new TextDecoder("windows-1252").decode(bytes.subarray(from, at + 24));
  const before = /\p{L}*$/u.exec(text.slice(0, at - from))?.[0] ?? "";
  const after = /^.\p{L}*/su.exec(text.slice(at - from))?.[0] ?? "";
  return before + after;
}
