/** What a file is, by its first bytes and not by its name. */
export type FileKind = "zip" | "gzip" | "parquet" | "xls" | "pdf" | "text";

/** First bytes of files that are not plain text. The old workbook's are also those of one with a password. */
const magics: readonly { readonly kind: FileKind; readonly bytes: readonly number[] }[] = [
  { kind: "zip", bytes: [0x50, 0x4b, 0x03, 0x04] },
  { kind: "zip", bytes: [0x50, 0x4b, 0x05, 0x06] },
  { kind: "gzip", bytes: [0x1f, 0x8b] },
  { kind: "parquet", bytes: [0x50, 0x41, 0x52, 0x31] },
  { kind: "xls", bytes: [0xd0, 0xcf, 0x11, 0xe0] },
  { kind: "pdf", bytes: [0x25, 0x50, 0x44, 0x46] },
];

export function startsWith(bytes: Uint8Array, start: readonly number[]): boolean {
  return start.every((byte, i) => bytes[i] === byte);
}

/** The kind of a file; what has no known first bytes is taken for text. */
export function kindOf(bytes: Uint8Array): FileKind {
  const kind = magics.find((known) => startsWith(bytes, known.bytes))?.kind ?? "text";
  if (kind !== "parquet") return kind;
  // A text may begin with these four letters: a Parquet file also ends with them.
  return bytes.length >= 12 && startsWith(bytes.subarray(-4), [0x50, 0x41, 0x52, 0x31]) ? kind : unlessText(bytes);
}

function unlessText(bytes: Uint8Array): FileKind {
  return bytes.subarray(0, 4096).includes(0) ? "parquet" : "text";
}
