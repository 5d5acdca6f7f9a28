import type { Message } from "./schema.js";

/** A row of the survey file that someone should look at, with what stands there and what says so. Empty texts: not known. */
export interface RowForFollowUp {
  /** The row's number as a spreadsheet shows it. */
  readonly sheetRow: number;
  /** Sheet or table of the file that the row stands in. */
  readonly sheet: string;
  readonly cluster: string;
  readonly household: string;
  readonly child: string;
  /** Original names of the columns concerned. */
  readonly columns: readonly string[];
  /** Their texts, as they stand in the file. */
  readonly values: readonly string[];
  /** Name of the check. */
  readonly check: Message;
  /** What is unusual. */
  readonly message: Message;
  /** What may have gone wrong; null where nothing, or too much, would explain it. */
  readonly suggestion: Message | null;
}

/** A label of the file and the code that the report prints for it. */
export interface CodeForTeam {
  readonly role: "cluster" | "team";
  readonly label: string;
  readonly code: string;
}
