import { message } from "../../results/message.js";
import type { Reading } from "../../results/schema.js";
import type { Words } from "../words.js";
import { textWidth, wrapAtMost } from "./text-width.js";
import { type Spec, theme } from "./theme.js";

const { palette } = theme;

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
  readonly domain: readonly [number, number];
  readonly axis: { readonly title: string; readonly ticks: Spec };
  /** How far rows stand apart, px. */
  readonly pitch: number;
}

/** Where everything stands, px. */
interface Layout {
  readonly labelWidth: number;
  readonly plot: number;
  /** Left edge of each column at the right, from the frame's left edge. */
  readonly columns: readonly number[];
  readonly top: number;
  readonly height: number;
}

const size = 12;
const gap = 16;
const widest = (texts: readonly string[], weight: 400 | 600 = 400): number =>
  Math.max(0, ...texts.map((text) => textWidth(text, size, weight)));

/** Rows of dots with intervals on class bands or beside marked values: names at the left, figures in columns at the right. */
export function dotRows(picture: DotPicture, words: Words): Spec {
  const all = picture.alike ?? picture.rows;
  const sign = all.some((row) => row.reading !== undefined);
  const columnWidths = picture.columns.map((title, i) =>
    Math.max(textWidth(title, size), widest(all.map((row) => row.facts[i] ?? ""))),
  );
  const right = columnWidths.reduce((sum, width) => sum + width + gap, sign ? 24 : 0);
  const headings = all.map((row) => row.heading ?? "");
  const wanted = Math.max(widest(all.map((row) => row.label)), widest(headings, 600)) + 4;
  const labelWidth = Math.min(wanted, 210);
  const plot = theme.width - 10 - labelWidth - 12 - right;
  const columns = columnWidths.map(
    (_, i) => plot + gap + (sign ? 24 : 0) + columnWidths.slice(0, i).reduce((sum, width) => sum + width + gap, 0),
  );
  const placed = place(picture, labelWidth);
  return spec(picture, placed, { labelWidth, plot, columns, top: 0, height: placed.height }, sign, words);
}

interface Placed {
  readonly rows: readonly (DotRow & {
    readonly y: number;
    readonly text: string;
  })[];
  readonly headings: readonly { readonly y: number; readonly text: string }[];
  readonly height: number;
}

/** Gives every row and heading its place from the top: a row whose name breaks into lines takes more room. */
function place(picture: DotPicture, labelWidth: number): Placed {
  let y = 4;
  const rows: (DotRow & { y: number; text: string })[] = [];
  const headings: { y: number; text: string }[] = [];
  for (const row of picture.rows) {
    if (row.heading !== null) {
      if (rows.length > 0) y += 6;
      const lines = wrapAtMost(row.heading, labelWidth, size, 600, 2);
      headings.push({ y: y + 10, text: lines.join("\n") });
      y += 6 + lines.length * 14;
    }
    const lines = wrapAtMost(row.label, labelWidth, size, 400, 3);
    const room = Math.max(picture.pitch, lines.length === 1 ? 0 : lines.length * 14 + 6);
    rows.push({ ...row, y: y + room / 2, text: lines.join("\n") });
    y += room;
  }
  return { rows, headings, height: y + 4 };
}

const q = (field: string, more: Spec = {}): Spec => ({
  field,
  type: "quantitative",
  ...more,
});
const own = (field: string): Spec => ({ field, type: "nominal", scale: null });

function spec(picture: DotPicture, placed: Placed, layout: Layout, sign: boolean, words: Words): Spec {
  const x = {
    scale: { domain: [...picture.domain], nice: false, zero: false },
  };
  const y = {
    scale: {
      domain: [0, layout.height],
      range: [0, layout.height],
      nice: false,
    },
    axis: null,
  };
  return {
    width: layout.plot,
    height: layout.height,
    encoding: {
      x: {
        type: "quantitative",
        ...x,
        axis: {
          ...picture.axis.ticks,
          title: picture.axis.title === "" ? null : picture.axis.title,
          domain: true,
        },
      },
      y: { type: "quantitative", ...y },
    },
    layer: [
      ...bandMarks(picture, layout),
      ...lineMarks(picture, layout),
      ...textMarks(placed, layout),
      ...columnMarks(picture, placed, layout),
      ...dotMarks(placed),
      ...(sign ? signMarks(placed, layout, words) : []),
    ],
  };
}

interface BandName {
  readonly middle: number;
  readonly name: string;
  readonly lines: number;
}

const shownBands = (picture: DotPicture): DotBand[] => {
  const [low, high] = picture.domain;
  return picture.bands
    .map((band) => ({
      ...band,
      from: Math.max(band.from, low),
      to: Math.min(band.to, high),
    }))
    .filter((band) => band.to > band.from);
};

/** Names over the bands, broken at spaces only; a single band's name may reach beyond it. */
function namesOf(picture: DotPicture, layout: Layout): BandName[] {
  const bands = shownBands(picture);
  const scale = layout.plot / (picture.domain[1] - picture.domain[0]);
  return bands.map((band) => {
    const word = Math.max(...band.label.split(" ").map((each) => textWidth(each, 11)));
    const width = Math.max((band.to - band.from) * scale - 2, word, bands.length === 1 ? 150 : 0);
    const lines = wrapAtMost(band.label, width, 11, 400, 3);
    return {
      middle: (band.from + band.to) / 2,
      name: lines.join("\n"),
      lines: lines.length,
    };
  });
}

function bandMarks(picture: DotPicture, layout: Layout): Spec[] {
  const bands = shownBands(picture);
  if (bands.length === 0) return [];
  const names = namesOf(picture, layout);
  const lift = Math.max(...names.map((band) => band.lines));
  return [
    {
      data: { values: bands },
      mark: { type: "rect", stroke: palette.paper, strokeWidth: 1 },
      encoding: {
        x: q("from"),
        x2: { field: "to" },
        y: { value: 0 },
        y2: { value: layout.height },
        fill: own("fill"),
      },
    },
    {
      data: { values: names },
      mark: {
        type: "text",
        fontSize: 11,
        lineBreak: "\n",
        lineHeight: 12,
        baseline: "bottom",
        color: palette.ink,
      },
      encoding: {
        x: q("middle"),
        y: { value: -5 - (lift - 1) * 12 },
        text: { field: "name" },
      },
    },
  ];
}

/** Marked values; names that would run into each other stand one above the other. */
function lineMarks(picture: DotPicture, layout: Layout): Spec[] {
  if (picture.lines.length === 0) return [];
  const [low, high] = picture.domain;
  const scale = layout.plot / (high - low);
  const bandRoom =
    picture.bands.length > 0 ? 6 + 12 * Math.max(...namesOf(picture, layout).map((band) => band.lines)) : 0;
  const ends: number[] = [];
  const values = [...picture.lines]
    .filter((line) => line.at >= low && line.at <= high)
    .sort((a, b) => a.at - b.at)
    .map((line) => {
      const half = textWidth(line.label, size) / 2;
      const middle = Math.min(
        Math.max((line.at - low) * scale, half - layout.labelWidth),
        theme.width - 20 - layout.labelWidth - half,
      );
      const free = ends.findIndex((end) => end < middle - half - 8);
      const level = free === -1 ? ends.length : free;
      ends[level] = middle + half;
      return {
        at: line.at,
        label: line.label,
        top: -6 - bandRoom - level * 15,
        middle: low + middle / scale,
      };
    });
  return [
    {
      data: { values },
      mark: {
        type: "rule",
        stroke: palette.ink,
        strokeWidth: 1,
        strokeDash: [4, 3],
      },
      encoding: { x: q("at"), y: { value: -3 }, y2: { value: layout.height } },
    },
    {
      data: { values },
      mark: { type: "text", baseline: "bottom", clip: false },
      encoding: {
        x: q("middle"),
        y: { field: "top", type: "quantitative", scale: null },
        text: { field: "label" },
      },
    },
  ];
}

function textMarks(placed: Placed, layout: Layout): Spec[] {
  const marks: Spec[] = [
    {
      data: {
        values: placed.rows.map((row) => ({
          y: row.y - (row.text.split("\n").length - 1) * 7,
          text: row.text,
        })),
      },
      mark: {
        type: "text",
        align: "left",
        baseline: "middle",
        lineBreak: "\n",
        lineHeight: 14,
      },
      encoding: {
        x: { value: -layout.labelWidth - 12 },
        y: q("y"),
        text: { field: "text" },
      },
    },
  ];
  if (placed.headings.length > 0) {
    marks.push({
      data: { values: [...placed.headings] },
      mark: {
        type: "text",
        align: "left",
        baseline: "middle",
        fontWeight: 600,
        lineBreak: "\n",
        lineHeight: 14,
      },
      encoding: {
        x: { value: -layout.labelWidth - 12 },
        y: q("y"),
        text: { field: "text" },
      },
    });
  }
  return marks;
}

function columnMarks(picture: DotPicture, placed: Placed, layout: Layout): Spec[] {
  return picture.columns.flatMap((title, i) => {
    const x = layout.columns[i] ?? 0;
    return [
      {
        data: {
          values: placed.rows.map((row) => ({
            y: row.y,
            text: row.facts[i] ?? "",
          })),
        },
        mark: { type: "text", align: "left", baseline: "middle" },
        encoding: { x: { value: x }, y: q("y"), text: { field: "text" } },
      },
      {
        data: { values: picture.headed === false ? [] : [{ title }] },
        mark: {
          type: "text",
          align: "left",
          baseline: "bottom",
          color: palette.quiet,
        },
        encoding: {
          x: { value: x },
          y: { value: -5 },
          text: { field: "title" },
        },
      },
    ];
  });
}

/** Dots with their intervals; what stands out differs in shape and edge as well as in colour. */
function dotMarks(placed: Placed): Spec[] {
  const rows = placed.rows
    .filter((row) => row.value !== null)
    .map((row) => ({
      y: row.y,
      value: row.value,
      low: row.low ?? row.value,
      high: row.high ?? row.value,
      fill: row.hollow ? palette.paper : row.strong ? palette.ochre : palette.blue,
      edge: row.strong ? palette.ink : palette.blue,
      strong: row.strong,
    }));
  const points = (shape: string, area: number, strong: boolean): Spec => ({
    data: { values: rows.filter((row) => row.strong === strong) },
    mark: { type: "point", shape, size: area, strokeWidth: 1.6, opacity: 1 },
    encoding: {
      x: q("value"),
      y: q("y"),
      fill: own("fill"),
      stroke: own("edge"),
    },
  });
  return [
    {
      data: { values: rows },
      mark: { type: "rule", strokeWidth: 2 },
      encoding: {
        x: q("low"),
        x2: { field: "high" },
        y: q("y"),
        stroke: own("edge"),
      },
    },
    points("circle", 62, false),
    points("diamond", 110, true),
  ];
}

/** The signs of the report's readings: open, half, full circle, dash. */
function signMarks(placed: Placed, layout: Layout, words: Words): Spec[] {
  const of = (readings: readonly Reading[]): Spec => ({
    values: placed.rows
      .filter((row) => row.reading !== undefined && readings.includes(row.reading))
      .map((row) => ({
        y: row.y,
        word: words.text(message(`reading.${row.reading ?? "unknown"}`)),
      })),
  });
  const x = { value: layout.plot + gap + 5 };
  const point = (shape: string, fill: string | null): Spec => ({
    type: "point",
    shape,
    fill,
    stroke: palette.ink,
    strokeWidth: 1.4,
    size: 95,
    opacity: 1,
  });
  const encoding = { x, y: q("y") };
  return [
    {
      data: of(["expected", "explain"]),
      mark: point("circle", palette.paper),
      encoding,
    },
    {
      data: of(["explain"]),
      mark: point("M0,-1A1,1,0,0,0,0,1Z", palette.ink),
      encoding,
    },
    { data: of(["doubt"]), mark: point("circle", palette.ink), encoding },
    { data: of(["unknown"]), mark: point("M-1,0L1,0", null), encoding },
  ];
}
