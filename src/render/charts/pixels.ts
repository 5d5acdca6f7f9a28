import { type Spec, theme } from "./theme.js";

/**
 * Pictures of many small frames are drawn as one specification in pixels: a view of its own for each frame would take
 * the drawing program ten times as long.
 */
export interface Frame {
  /** Edges from the picture's upper corner at the start of the line, px. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface PixelText {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}
export interface PixelRule {
  readonly x: number;
  readonly y: number;
  readonly x2: number;
  readonly y2: number;
  readonly stroke: string;
}
export interface PixelPoint {
  readonly x: number;
  readonly y: number;
  readonly fill: string;
  readonly edge: string;
}
export interface PixelBox extends Frame {
  readonly fill: string;
  readonly edge: string;
}

/** Height that is left for a picture on a page below the headings of its section, px. */
const roomOnPage = 860;

/** How many rows of frames of this height a picture may have, so that it fits a page. */
export const rowsOnPage = (rowHeight: number): number => Math.max(1, Math.floor((roomOnPage - 40) / rowHeight));

const at = (field: string): Spec => ({ field, type: "quantitative" });
const given = (field: string): Spec => ({ field, type: "nominal", scale: null });

/** A picture of this size whose marks are placed in pixels. */
export function pixelPicture(width: number, height: number, layers: readonly Spec[]): Spec {
  const scale = (length: number): Spec => ({
    scale: { domain: [0, length], range: [0, length], nice: false, zero: false },
    axis: null,
  });
  return {
    width,
    height,
    encoding: {
      x: { type: "quantitative", ...scale(width) },
      y: { type: "quantitative", ...scale(height) },
    },
    layer: [...layers],
  };
}

/** Nothing for no items: the drawing program refuses to lay out empty data with a scale of its own. */
const layer = (items: readonly object[], mark: Spec, encoding: Spec): Spec[] =>
  items.length === 0 ? [] : [{ data: { values: [...items] }, mark, encoding }];

export function texts(items: readonly PixelText[], more: Spec = {}): Spec[] {
  const mark = { type: "text", align: "left", baseline: "alphabetic", lineBreak: "\n", lineHeight: 14, ...more };
  return layer(items, mark, { x: at("x"), y: at("y"), text: { field: "text" } });
}

export function rules(items: readonly PixelRule[], strokeWidth: number, more: Spec = {}): Spec[] {
  const encoding = { x: at("x"), y: at("y"), x2: { field: "x2" }, y2: { field: "y2" }, stroke: given("stroke") };
  return layer(items, { type: "rule", strokeWidth, ...more }, encoding);
}

export function points(items: readonly PixelPoint[], shape: string, size: number): Spec[] {
  const mark = { type: "point", shape, size, strokeWidth: 1.5, opacity: 1 };
  return layer(items, mark, { x: at("x"), y: at("y"), fill: given("fill"), stroke: given("edge") });
}

export function boxes(items: readonly PixelBox[], strokeWidth: number): Spec[] {
  const values = items.map((box) => ({ ...box, x2: box.x + box.width, y2: box.y + box.height }));
  const encoding = {
    x: at("x"),
    x2: { field: "x2" },
    y: at("y"),
    y2: { field: "y2" },
    fill: given("fill"),
    stroke: given("edge"),
  };
  return layer(values, { type: "rect", strokeWidth }, encoding);
}

/** Where a value stands in a frame, px: low at the bottom. */
export function heightIn(frame: Frame, domain: readonly [number, number], value: number): number {
  return frame.y + frame.height * (1 - (value - domain[0]) / (domain[1] - domain[0]));
}

/** A value with its interval in a small frame. */
export interface SmallPoint {
  readonly x: number;
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
  /** Drawn hollow: few children. */
  readonly hollow: boolean;
}

/** Points of one place from the first to the last. */
export interface SmallSeries {
  readonly frame: Frame;
  readonly points: readonly SmallPoint[];
  /** A clear change stands in blue, any other in grey. */
  readonly strong: boolean;
}

/** All series of a picture: upright intervals joined by a thin line through the values. */
export function seriesMarks(series: readonly SmallSeries[], domain: readonly [number, number], size: number): Spec[] {
  const { palette } = theme;
  const placed = series.map(({ frame, points: own, strong }) =>
    own.map((point) => ({
      x: point.x,
      y: heightIn(frame, domain, point.value),
      top: heightIn(frame, domain, point.high ?? point.value),
      bottom: heightIn(frame, domain, point.low ?? point.value),
      stroke: strong ? palette.blue : palette.quiet,
      fill: point.hollow ? palette.paper : strong ? palette.blue : palette.quiet,
      edge: strong ? palette.blue : palette.quiet,
    })),
  );
  const all = placed.flat();
  const joined = placed.flatMap((own) =>
    own.slice(1).map((point, i) => ({ ...point, x2: own[i]?.x ?? point.x, y2: own[i]?.y ?? point.y })),
  );
  return [
    ...rules(joined, 0.9),
    ...rules(
      all.map((point) => ({ ...point, y: point.top, x2: point.x, y2: point.bottom })),
      1.8,
    ),
    ...points(all, "circle", size),
  ];
}
