import { type Limits, usualLimits } from "./limits.js";
import type { Delimiter, Encoding } from "./table.js";

/** A join that the settings state: rows of `table` find their row of `parent` by the text in `key`. */
export interface StatedJoin {
  readonly table: string;
  readonly key: string;
  readonly parent: string;
  readonly parentKey: string;
}

export interface ReadOptions {
  /** Told how many rows have been read, from time to time. */
  readonly onRows?: (rows: number) => void;
  /** Whether a column name is one the program knows; helps to find the delimiter, the header and the sheet. */
  readonly recognises?: (name: string) => boolean;
  /** Whether a column name is that of a child's measurement; helps to find the table that has one row a child. */
  readonly isMeasure?: (name: string) => boolean;
  /** Taken as it is when given; found from the header when not. */
  readonly delimiter?: Delimiter;
  /** Taken as it is when given, unless a byte order mark says otherwise; found from the bytes when not. */
  readonly encoding?: Encoding;
  /** Language of the data, such as 'ar': settles which code page is likely. */
  readonly language?: string;
  /** The sheet, or table of an archive or folder, that has one row a child. */
  readonly sheet?: string;
  readonly joins?: readonly StatedJoin[];
  /** Columns whose cells are wanted; all when absent. The others are there by name only, every cell empty. */
  readonly columns?: ReadonlySet<string>;
  /** Further columns whose cells are kept, where some are wanted. */
  readonly alsoKept?: (name: string) => boolean;
  readonly limits?: Limits;
}

/** Whether the cells of a column are to be kept. */
export function isKept({ columns, alsoKept }: ReadOptions, name: string): boolean {
  return columns === undefined || columns.has(name) || alsoKept?.(name) === true;
}

export function limitsOf(options: ReadOptions): Limits {
  return options.limits ?? usualLimits;
}
