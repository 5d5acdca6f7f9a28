/**
 * A file of text, as columns. Each column keeps its distinct texts once and a code for every row, so that memory
 * grows with the number of different values and not with the length of the file.
 */
export interface TextColumn {
  /** The column's name exactly as the file's header has it. */
  readonly name: string;
  /** For every row, the index into `values`. */
  readonly codes: Uint32Array;
  /** Distinct texts, trimmed, in order of first appearance. An empty cell is the empty string. */
  readonly values: readonly string[];
}

export interface TextTable {
  /** The file's name without its folder. */
  readonly file: string;
  readonly bytes: number;
  /** Hexadecimal SHA-256 of the file's bytes. */
  readonly sha256: string;
  readonly encoding: "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";
  /**
   * A word with a letter beyond ASCII, as decoded, where the encoding was assumed and not proved (windows-1252 only): if
   * it reads wrong, so do the labels. Taken from the header where possible; otherwise it may be a person's name, for
   * the terminal only.
   */
  readonly encodingSample?: string;
  readonly delimiter: "," | ";" | "\t" | "|";
  readonly columns: readonly TextColumn[];
  readonly rowCount: number;
  /** For every row, its number as a spreadsheet shows it (the header is row 1; blank lines count). */
  readonly sheetRow: Uint32Array;
}
