import type { Message } from "./schema.js";

/** One problem, with the place it concerns and its words. */
export interface ProblemLine {
  readonly file: string;
  /** Row as a spreadsheet shows it; the first, where several rows hold the same value. */
  readonly row: number | null;
  /** Line of the settings file. */
  readonly line: number | null;
  readonly column: string;
  /** The cell's text, clipped; empty where the problem is not about one. */
  readonly value: string;
  /** Cells, rows or keys that it stands for. */
  readonly count: number;
  readonly title: Message;
  /** What more there is to say about this one; null where place and value say it all. */
  readonly detail: Message | null;
  readonly remedy: Message;
}
