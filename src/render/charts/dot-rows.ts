import type { Reading } from "../../results/schema.js";
import type { Words } from "../words.js";
import { axisTitle } from "./axis.js";
import { atStart } from "./direction.js";
import { asGiven, type Figure, type Row, type Spec } from "./figure.js";
import { type Entry, withLegend } from "./legend.js";
import { bandNames, lineNames } from "./names-above.js";
import { shapes } from "./shapes.js";
import { textWidth, wrapAtMost } from "./text-width.js";
import { theme } from "./theme.js";

const { palette } = theme;

/** One line of a figure of values with intervals: what stands at the start, in the frame, and at the end. */
export interface DotRow {
  /** Heading above this row; null when it stands in the same group as the row before. */
  readonly heading: string | null;
  readonly label: string;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Written at the end, in columns. */
  readonly facts: readonly string[];
  readonly reading: Reading | undefined;
  /** Drawn hollow: few children. */
  readonly hollow: boolean;
  /** Drawn as a diamond in ochre with an ink edge. */
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

export interface DotFigure {
  readonly rows: readonly DotRow[];
  readonly bands: readonly DotBand[];
  readonly lines: readonly { readonly at: number; readonly label: string }[];
  /** A span above the frame, with its words: where most others lie. */
  readonly bracket?: { readonly low: number; readonly high: number; readonly label: string };
  /** Headings of the columns at the end. */
  readonly columns: readonly string[];
  /** False where a frame above has the headings already. Defaults to true. */
  readonly headed?: boolean;
  /** Rows that widths are taken from, so that frames of one figure line up. Defaults to `rows`. */
  readonly alike?: readonly DotRow[];
  readonly domain: readonly [number, number];
  readonly axis: Spec;
  readonly title: string;
  /** Height of a line of the rows, px. */
  readonly pitch: number;
  readonly legend: readonly Entry[];
}

const size = 12;
/** Names wider than this are broken into lines, px. */
export const mostLabelWidth = 210;
/** Lines of a heading: what is left of it is cut. */
export const headingLines = 2;
const gap = 14;
const signWidth = 14;

/** Rows of dots with intervals on bands or beside marked values: names, frame, signs and columns of figures side by side. */
export function dotRows(figure: DotFigure, words: Words): Figure {
  const layout = layoutOf(figure);
  const { rows, names, lines } = linesOf(figure, layout.labelWidth);
  const height = Math.round(lines * figure.pitch);
  const upright: Spec = {
    field: "line",
    type: "quantitative",
    scale: { domain: [0, lines], reverse: true, nice: false, zero: false },
    axis: null,
  };
  const common: Common = { figure, layout, height, upright, words };
  const views = [
    nameView(common),
    frameView(common),
    ...(layout.sign ? [signView(common)] : []),
    ...figure.columns.map((title, i) => columnView(common, title, i)),
  ];
  return {
    spec: withLegend(
      { hconcat: words.direction === "rtl" ? views.reverse() : views, spacing: gap },
      figure.legend,
      words,
    ),
    datasets: {
      names,
      rows,
      ...(figure.bands.length === 0 ? {} : { bands: bandNames(figure, layout.plot) }),
      lines: lineNames(figure, layout, bandNames(figure, layout.plot)),
      ...(figure.bracket === undefined ? {} : { bracket: [figure.bracket] }),
    },
  };
}

interface Layout {
  readonly labelWidth: number;
  readonly plot: number;
  readonly columnWidths: readonly number[];
  /** Whether a sign of the reading stands between the frame and the columns. */
  readonly sign: boolean;
}

interface Common {
  readonly figure: DotFigure;
  readonly layout: Layout;
  readonly height: number;
  readonly upright: Spec;
  readonly words: Words;
}

const widest = (texts: readonly string[], weight: 400 | 600 = 400): number =>
  Math.max(0, ...texts.map((text) => textWidth(text, size, weight)));

/** Gives names, frame and columns their widths, from the longest text of each. */
function layoutOf(figure: DotFigure): Layout {
  const all = figure.alike ?? figure.rows;
  const sign = all.some((row) => row.reading !== undefined);
  const columnWidths = figure.columns.map((title, i) =>
    Math.ceil(Math.max(textWidth(title, size), widest(all.map((row) => row.facts[i] ?? "")))),
  );
  const end = columnWidths.reduce((sum, width) => sum + width + gap, sign ? signWidth + gap : 0);
  const headings = all.map((row) => row.heading ?? "");
  const wanted = Math.ceil(Math.max(widest(all.map((row) => row.label)), widest(headings, 600))) + 2;
  const labelWidth = Math.min(wanted, mostLabelWidth);
  return { labelWidth, plot: theme.width - 26 - labelWidth - gap - end, columnWidths, sign };
}

/** Rows as lines of text: a name of two lines takes two of them, a heading stands above its rows. Counted from the top. */
function linesOf(figure: DotFigure, labelWidth: number): { rows: Row[]; names: Row[]; lines: number } {
  const rows: Row[] = [];
  const names: Row[] = [];
  // Names of two lines are set closer than rows stand apart.
  const roomOf = (count: number): number => Math.max(1, (count * 14 + (count > 1 ? 6 : 0)) / figure.pitch);
  let line = 0;
  for (const row of figure.rows) {
    if (row.heading !== null) {
      const heading = wrapAtMost(row.heading, labelWidth, size, 600, headingLines);
      const room = roomOf(heading.length) + (names.length > 0 ? 0.5 : 0.1);
      names.push({
        line: line + room - (heading.length * 7) / figure.pitch - 0.1,
        name: heading.join("\n"),
        heading: true,
      });
      line += room;
    }
    const label = wrapAtMost(row.label, labelWidth, size, 400, 3);
    const room = roomOf(label.length);
    const middle = line + room / 2;
    const half = Math.min(8, figure.pitch / 2 - 1.5) / figure.pitch;
    const [first, last] = figure.domain;
    names.push({ line: middle, name: label.join("\n"), heading: false });
    rows.push({
      ...{ line: middle, value: row.value, low: row.low ?? row.value, high: row.high ?? row.value },
      ...{ hollow: row.hollow, strong: row.strong },
      ...(row.reading === undefined ? {} : { reading: row.reading, sign: shapes[row.reading] }),
      ...Object.fromEntries(row.facts.map((fact, i) => [`fact${i}`, fact])),
      ...(row.band === undefined
        ? {}
        : {
            ...{ bandTop: middle - half, bandBottom: middle + half, expected: row.band.expected },
            ...(row.band.low === null && row.band.high === null
              ? {}
              : { bandLow: row.band.low ?? first, bandHigh: row.band.high ?? last }),
          }),
    });
    line += room;
  }
  return { rows, names, lines: line };
}

function nameView({ layout, height, upright, words }: Common): Spec {
  const { align, x } = atStart(words, layout.labelWidth);
  return {
    ...{ width: layout.labelWidth, height, data: { name: "names" } },
    mark: {
      ...{ type: "text", baseline: "middle", align },
      // The library sets the first of several lines at the place; here all of them together stand in its middle.
      dy: { expr: "-7 * (split(datum.name, '\\n').length - 1)" },
      fontWeight: { expr: "datum.heading ? 600 : 400" },
    },
    encoding: { x, y: upright, text: { field: "name" } },
  };
}

function columnView({ figure, layout, height, upright, words }: Common, title: string, i: number): Spec {
  const width = layout.columnWidths[i] ?? 0;
  const { align, x } = atStart(words, width);
  const heading = {
    data: { values: [{}] },
    mark: { type: "text", style: "facts", align },
    encoding: { x, y: { value: -5 }, text: { value: title } },
  };
  const figures = {
    mark: { type: "text", baseline: "middle", align },
    encoding: { x, y: upright, text: { field: `fact${i}` } },
  };
  return {
    ...{ width, height, data: { name: "rows" } },
    layer: figure.headed === false ? [figures] : [heading, figures],
  };
}

/** The signs of the readings: open, half and full circle, and a dash. */
const signView = ({ height, upright }: Common): Spec => ({
  ...{ width: signWidth, height, data: { name: "rows" } },
  transform: [{ filter: "isValid(datum.sign)" }],
  mark: { type: "point", fill: palette.ink, strokeWidth: 0, size: 110, opacity: 1 },
  encoding: { x: { value: signWidth / 2 }, y: upright, shape: asGiven("sign") },
});

function frameView({ figure, layout, height, upright }: Common): Spec {
  const across = (field: string): Spec => ({
    field,
    type: "quantitative",
    scale: { domain: figure.domain, nice: false, zero: false },
    axis: { title: axisTitle(figure.title, layout.plot + 2 * Math.min(layout.labelWidth, 200)), ...figure.axis },
  });
  const rowHeight = { y: { ...upright, field: "bandTop" }, y2: { field: "bandBottom" } };
  return {
    ...{ width: layout.plot, height, data: { name: "rows" } },
    layer: [
      ...bandLayers(figure, across, height),
      {
        transform: [{ filter: "isValid(datum.bandLow)" }],
        mark: { type: "rect", fill: palette.chance },
        encoding: { x: across("bandLow"), x2: { field: "bandHigh" }, ...rowHeight },
      },
      {
        transform: [{ filter: "isValid(datum.expected)" }],
        mark: { type: "rule", stroke: palette.ink, strokeWidth: 1.4 },
        encoding: { x: across("expected"), ...rowHeight },
      },
      ...lineLayers(across, height),
      {
        // An interval may stand by itself: what findings put right leave is no value.
        transform: [{ filter: "isValid(datum.low) && isValid(datum.high)" }],
        mark: { type: "rule", strokeWidth: 2, stroke: { expr: `datum.strong ? '${palette.ink}' : '${palette.blue}'` } },
        encoding: { x: across("low"), x2: { field: "high" }, y: upright },
      },
      {
        transform: [{ filter: "isValid(datum.value)" }],
        mark: {
          ...{ type: "point", strokeWidth: 1.6, opacity: 1 },
          shape: { expr: "datum.strong ? 'diamond' : 'circle'" },
          size: { expr: "datum.strong ? 110 : 62" },
          stroke: { expr: `datum.strong ? '${palette.ink}' : '${palette.blue}'` },
          fill: {
            expr: `datum.hollow ? '${palette.paper}' : datum.strong ? '${palette.ochre}' : '${palette.blue}'`,
          },
        },
        encoding: { x: across("value"), y: upright },
      },
    ],
  };
}

type Across = (field: string) => Spec;

/** Bands across the frame with their names above it, and a bracket where one is given. */
function bandLayers(figure: DotFigure, across: Across, height: number): Spec[] {
  const bands: Spec[] =
    figure.bands.length === 0
      ? []
      : [
          {
            data: { name: "bands" },
            mark: { type: "rect", stroke: palette.paper, strokeWidth: 1 },
            encoding: {
              ...{ x: across("from"), x2: { field: "to" }, y: { value: 0 }, y2: { value: height } },
              fill: { ...asGiven("fill"), legend: null },
            },
          },
          {
            data: { name: "bands" },
            mark: {
              ...{ type: "text", baseline: "bottom", lineHeight: 12.5, dx: { expr: "datum.shift" } },
              dy: { expr: "-12.5 * (split(datum.name, '\\n').length - 1)" },
            },
            encoding: { x: across("middle"), y: { value: -4 }, text: { field: "name" } },
          },
        ];
  if (figure.bracket === undefined) return bands;
  const ends = { x: across("low"), x2: { field: "high" } };
  const end = (field: string): Spec => ({
    data: { name: "bracket" },
    mark: { type: "rule", stroke: palette.quiet, strokeWidth: 1.4 },
    encoding: { x: across(field), y: { value: height - 6 }, y2: { value: height } },
  });
  return [
    ...bands,
    {
      data: { name: "bracket" },
      mark: { type: "rule", stroke: palette.quiet, strokeWidth: 1.4 },
      encoding: { ...ends, y: { value: height - 3 } },
    },
    end("low"),
    end("high"),
  ];
}

/** Marked values, their names above the frame on as many levels as they need. */
const lineLayers = (across: Across, height: number): Spec[] => [
  {
    data: { name: "lines" },
    mark: { type: "rule", style: "marked-value" },
    encoding: { x: across("at"), y: { value: -3 }, y2: { value: height } },
  },
  {
    data: { name: "lines" },
    mark: { type: "text", baseline: "bottom", dx: { expr: "datum.shift" }, dy: { expr: "datum.lift" } },
    encoding: { x: across("at"), y: { value: -6 }, text: { field: "name" } },
  },
];
