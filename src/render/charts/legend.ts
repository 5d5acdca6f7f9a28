import { message } from "../../results/message.js";
import type { Reading } from "../../results/schema.js";
import type { Words } from "../words.js";
import { inReadingOrder } from "./direction.js";
import type { Spec } from "./figure.js";
import { shapes } from "./shapes.js";
import { textWidth, wrapText } from "./text-width.js";
import { theme } from "./theme.js";

const { palette } = theme;

/** How a kind of mark looks in the legend. */
export interface Look {
  readonly shape: string;
  readonly fill: string;
  readonly stroke: string;
  readonly width: number;
}

/** A kind of mark and what it stands for. */
export interface Entry extends Look {
  readonly label: string;
}

const box = (fill: string, stroke: string): Look => ({ shape: shapes.box, fill, stroke, width: 1 });
const line = (stroke: string, width: number): Look => ({ shape: shapes.line, fill: "transparent", stroke, width });
const dot = (fill: string, stroke: string): Look => ({ shape: shapes.dotOnLine, fill, stroke, width: 1.6 });
const sign = (shape: string): Look => ({ shape, fill: palette.ink, stroke: "transparent", width: 0 });

/** The looks that figures share. */
export const looks = {
  chance: box(palette.chance, palette.chance),
  bar: box(palette.blueTint, palette.blue),
  strongBar: box(palette.ochre, palette.ink),
  below2: box(palette.ochreTint, palette.blue),
  below3: box(palette.ochre, palette.blue),
  expected: line(palette.ink, 1.6),
  standard: line(palette.ink, 1.7),
  observed: line(palette.blue, 1.6),
  fitted: { ...line(palette.ochre, 2.4), shape: shapes.dashes },
  markedValue: { ...line(palette.ink, 1), shape: shapes.dashes },
  earlier: line(palette.quiet, 0.9),
  dot: dot(palette.blue, palette.blue),
  hollowDot: dot(palette.paper, palette.blue),
  greyDot: dot(palette.quiet, palette.quiet),
  hollowGreyDot: dot(palette.paper, palette.quiet),
  diamond: { ...dot(palette.ochre, palette.ink), shape: shapes.diamondOnLine },
  bracket: { ...line(palette.quiet, 1.4), shape: shapes.bracket },
  rise: sign("triangle-up"),
  fall: sign("triangle-down"),
  multiple: sign(shapes.underline),
} as const satisfies Readonly<Record<string, Look>>;

/** A legend's entry: what a look stands for, by the name of its message below `key.`. */
export const entry = (look: Look, id: string, words: Words): Entry => ({
  ...look,
  label: words.text(message(`key.${id}`)),
});

const readings = ["expected", "explain", "doubt", "unknown"] as const;

/** The signs of readings that occur, in words. Where nothing but 'as expected' stands, the check says so over the figure. */
export function readingEntries(rows: readonly { readonly reading?: Reading | undefined }[], words: Words): Entry[] {
  const present = readings.filter((reading) => rows.some((row) => row.reading === reading));
  if (present.every((reading) => reading === "expected")) return [];
  return present.map((reading) => ({ ...sign(shapes[reading]), label: words.text(message(`reading.${reading}`)) }));
}

/** Room for the symbol and the gap beside a label, px. */
const beside = 40;

/**
 * A layer without marks that gives a figure its legend: one entry for each kind of mark, in as many columns as have room. From right to
 * left the first entry stands at the right.
 */
export function legendLayer(entries: readonly Entry[], words: Words, width = theme.width - 84): Spec {
  const wrapped = entries.map(({ label }) => wrapText(label, width - beside, 12).join("\n"));
  const widths = wrapped.map((label) => beside + Math.max(...label.split("\n").map((line) => textWidth(line, 12))));
  const widest = Math.max(0, ...widths);
  const columns = columnsFor(words.direction === "rtl" ? widths.map(() => widest) : widths, width);
  const placed = inReadingOrder([...entries.keys()], columns, words);
  const labels = placed.map((i) => wrapped[i]);
  // From right to left labels end at the left of their symbols.
  const side =
    words.direction === "rtl" ? { labelAlign: "right", labelOffset: -24, symbolOffset: widest - beside + 8 } : {};
  const legend = { title: null, columns, labelExpr: "split(datum.label, '\\n')", ...side };
  const by = (property: keyof Look): Spec => ({
    field: "label",
    type: "ordinal",
    scale: { type: "ordinal", domain: labels, range: placed.map((i) => entries[i]?.[property]) },
    legend,
  });
  return {
    data: { values: [] },
    mark: { type: "point" },
    encoding: {
      x: { value: 0 },
      y: { value: 0 },
      ...{ shape: by("shape"), fill: by("fill"), stroke: by("stroke"), strokeWidth: by("width") },
    },
  };
}

/** As many columns as have room, each as wide as its widest entry. */
function columnsFor(widths: readonly number[], width: number): number {
  for (let columns = widths.length; columns > 1; columns -= 1) {
    const widest = Array.from({ length: columns }, (_, column) =>
      Math.max(...widths.filter((_, i) => i % columns === column)),
    );
    if (widest.reduce((sum, each) => sum + each, 0) <= width) return columns;
  }
  return 1;
}

/** A figure of several views with one legend below all of them. */
export function withLegend(spec: Spec, entries: readonly Entry[], words: Words): Spec {
  if (entries.length === 0) return spec;
  const legend = { width: theme.width - 40, height: 1, layer: [legendLayer(entries, words, theme.width - 30)] };
  // Views share the scales of marks unless they are told not to.
  const own = Object.fromEntries(["shape", "fill", "stroke", "strokeWidth"].map((channel) => [channel, "independent"]));
  return { vconcat: [spec, legend], spacing: 0, resolve: { scale: own } };
}
