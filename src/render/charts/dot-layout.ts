import type { DotPicture, DotRow } from "./dot-picture.js";
import { placeIn } from "./picture.js";
import { textWidth, wrapAtMost } from "./text-width.js";
import { theme } from "./theme.js";

/** Where everything stands, px. */
export interface Layout {
  readonly labelWidth: number;
  readonly plot: number;
  /** Where a value stands, from the frame's left edge. */
  readonly along: (value: number) => number;
  /** Left edge of each column at the right, from the frame's left edge. */
  readonly columns: readonly number[];
  /** Whether a sign of the reading stands between the frame and the columns. */
  readonly sign: boolean;
  readonly placed: Placed;
  readonly height: number;
}

/** Rows and headings with the place of their middle from the top, px; names broken into lines. */
export interface Placed {
  readonly rows: readonly (DotRow & {
    readonly y: number;
    readonly text: string;
  })[];
  readonly headings: readonly { readonly y: number; readonly lines: readonly string[] }[];
  readonly height: number;
}

export const size = 12;
/** Names wider than this are broken into lines, px. */
export const mostLabelWidth = 210;
/** Lines of a heading: what is left of it is cut. */
export const headingLines = 2;
export const gap = 16;
/** Room above the first row and below the last one, px. */
const inset = 2;
const widest = (texts: readonly string[], weight: 400 | 600 = 400): number =>
  Math.max(0, ...texts.map((text) => textWidth(text, size, weight)));

/** Gives names, frame and columns their widths, from the longest text of each. */
export function layoutOf(picture: DotPicture): Layout {
  const all = picture.alike ?? picture.rows;
  const sign = all.some((row) => row.reading !== undefined);
  const columnWidths = picture.columns.map((title, i) =>
    Math.max(textWidth(title, size), widest(all.map((row) => row.facts[i] ?? ""))),
  );
  const right = columnWidths.reduce((sum, width) => sum + width + gap, sign ? 24 : 0);
  const headings = all.map((row) => row.heading ?? "");
  const wanted = Math.max(widest(all.map((row) => row.label)), widest(headings, 600)) + 4;
  const labelWidth = Math.min(wanted, mostLabelWidth);
  const plot = theme.width - 10 - labelWidth - 12 - right;
  const columns = columnWidths.map(
    (_, i) => plot + gap + (sign ? 24 : 0) + columnWidths.slice(0, i).reduce((sum, width) => sum + width + gap, 0),
  );
  const placed = place(picture, labelWidth);
  const frame = { x: 0, y: 0, width: plot, height: placed.height };
  const along = (value: number): number => placeIn(frame, picture.axis.domain, value);
  return { labelWidth, plot, along, columns, sign, placed, height: placed.height };
}

/** Gives every row and heading its place from the top: a row whose name breaks into lines takes more room. */
function place(picture: DotPicture, labelWidth: number): Placed {
  let y = inset;
  const rows: (DotRow & { y: number; text: string })[] = [];
  const headings: { y: number; lines: string[] }[] = [];
  for (const row of picture.rows) {
    if (row.heading !== null) {
      if (rows.length > 0) y += 6;
      const lines = wrapAtMost(row.heading, labelWidth, size, 600, headingLines);
      headings.push({ y: y + 10, lines });
      y += 6 + lines.length * 14;
    }
    const lines = wrapAtMost(row.label, labelWidth, size, 400, 3);
    const room = Math.max(picture.pitch, lines.length === 1 ? 0 : lines.length * 14 + 6);
    rows.push({ ...row, y: y + room / 2, text: lines.join("\n") });
    y += room;
  }
  return { rows, headings, height: y + inset };
}
