import type { InputProblem } from "./problem.js";
import type { Delimiter, Encoding, TextColumn } from "./table.js";

/** One table of a file: a text file is one, a workbook has one a sheet, an archive or folder one a file. */
export interface Part {
  /** Name of the sheet, or of the file without its ending; absent where the file is one table. */
  readonly name?: string;
  /** The file, with the table's name if it has one, for messages. */
  readonly place: string;
  readonly columns: readonly TextColumn[];
  readonly rowCount: number;
  readonly sheetRow: Uint32Array;
  readonly headerRow: number;
  /** Rows with text above the header, which were passed over. */
  readonly rowsAbove?: number;
  readonly encoding: Encoding;
  readonly encodingAssumed?: boolean;
  readonly encodingSample?: string;
  readonly delimiter: Delimiter | "none";
  /** Rows that the spreadsheet hides; they are read like any other. */
  readonly hiddenRows: number;
  /** Columns of lists or groups, which are not read; only a Parquet file has them. */
  readonly nested?: readonly string[];
  /** What is wrong with it: an error only where the table is used. */
  readonly problems: readonly InputProblem[];
}
