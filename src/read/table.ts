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
  /** Where the cells stand, if that is another table than the rows': a column joined from a parent table. */
  readonly from?: Origin;
}

/** Another table that a column's cells stand in. */
export interface Origin {
  /** The file with the table's name, for messages. */
  readonly file: string;
  /** For every row, the row of that table as a spreadsheet shows it; 0 where there is none. */
  readonly sheetRow: Uint32Array;
}

export type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252" | "windows-1256";
export type Delimiter = "," | ";" | "\t" | "|";

/** What the text came in. */
export type ContainerKind = "gzip" | "zip" | "folder" | "xlsx" | "parquet";

export interface Container {
  readonly kind: ContainerKind;
  /** The sheet or table whose rows are the table's rows. */
  readonly table?: string;
  /** Row that holds the column names, as a spreadsheet shows it. */
  readonly headerRow?: number;
  /** Tables joined to it, the nearest first. */
  readonly joined?: readonly string[];
}

/** Something that the reader found or settled and that the report has to tell: its words are `input.note.<id>`. */
export interface ReadNote {
  readonly id:
    | "duplicate-keys"
    | "header-row"
    | "hidden-rows"
    | "joined-by-name"
    | "nested-columns-unread"
    | "parents-without-rows"
    | "repeated-rows"
    | "rows-without-parent"
    | "table-chosen";
  readonly values: Readonly<Record<string, string | number>>;
}

export interface TextTable {
  /** The file's name without its folder. */
  readonly file: string;
  readonly bytes: number;
  /** Hexadecimal SHA-256 of the file's bytes; of a folder, of its tables' names, sizes and bytes in the order of their names. */
  readonly sha256: string;
  readonly encoding: Encoding;
  /**
   * A word with a letter beyond ASCII, as decoded, where the encoding was assumed and neither proved nor stated: if
   * it reads wrong, so do the labels. Taken from the header where possible; otherwise it may be a person's name, for
   * the terminal only.
   */
  readonly encodingSample?: string;
  /** True where the encoding was assumed: the bytes do not prove it and the settings do not state it. */
  readonly encodingAssumed?: boolean;
  /** The sign between columns; 'none' where the file keeps them apart by other means. */
  readonly delimiter: Delimiter | "none";
  /** What the text came in; absent for a plain text file. */
  readonly container?: Container;
  readonly notes?: readonly ReadNote[];
  readonly columns: readonly TextColumn[];
  readonly rowCount: number;
  /** For every row, its number as a spreadsheet shows it (the header is row 1; blank lines count). */
  readonly sheetRow: Uint32Array;
}

/** A file's name with that of the table inside it, as messages name it. */
export function placeName(file: string, table: string | undefined): string {
  return table === undefined ? file : `${file} > ${table}`;
}

/** Where the rows of a table stand, as messages name it. */
export function placeOf(table: TextTable): string {
  return placeName(table.file, table.container?.table);
}
