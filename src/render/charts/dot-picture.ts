import type { Reading } from "../../results/schema.js";
import type { Axis } from "./axes.js";

/** One line of a picture of values with intervals: what stands at the left, in the frame, and at the right. */
export interface DotRow {
  /** Heading above this row; null when it stands in the same group as the row before. */
  readonly heading: string | null;
  readonly label: string;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Written at the right, in columns. */
  readonly facts: readonly string[];
  readonly reading: Reading | undefined;
  /** Drawn hollow: few children. */
  readonly hollow: boolean;
  /** Drawn in ochre with an ink edge. */
  readonly strong: boolean;
  /** What is expected of this row alone: a band behind the dot, and a tick at its middle. An open end reaches the frame. */
  readonly band?: { readonly low: number | null; readonly high: number | null; readonly expected: number | null };
}

export interface DotBand {
  readonly from: number;
  readonly to: number;
  readonly label: string;
  readonly fill: string;
}

export interface DotPicture {
  readonly rows: readonly DotRow[];
  readonly bands: readonly DotBand[];
  readonly lines: readonly { readonly at: number; readonly label: string }[];
  /** Headings of the columns at the right. */
  readonly columns: readonly string[];
  /** False where a frame above has the headings already. Defaults to true. */
  readonly headed?: boolean;
  /** Rows that widths are taken from, so that frames of one figure line up. Defaults to `rows`. */
  readonly alike?: readonly DotRow[];
  readonly axis: Axis;
  /** How far rows stand apart, px. */
  readonly pitch: number;
}
