import { theme } from "./theme.js";

/** An area of a picture that values are placed in, px from the picture's origin. */
export interface Frame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Rule {
  readonly x: number;
  readonly y: number;
  readonly x2: number;
  readonly y2: number;
  readonly stroke: string;
  readonly width: number;
  readonly dash?: readonly number[];
}

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly x2: number;
  readonly y2: number;
  readonly fill: string;
  readonly stroke: string | null;
  readonly width: number;
}

/** What lies between two lines. */
export interface Area {
  readonly points: readonly { readonly x: number; readonly y: number; readonly y2: number }[];
  readonly fill: string;
  readonly opacity: number;
}

/** A line through points, in their order. */
export interface Curve {
  readonly points: readonly { readonly x: number; readonly y: number }[];
  readonly stroke: string;
  readonly width: number;
  readonly dash?: readonly number[];
}

export interface Point {
  readonly x: number;
  readonly y: number;
  readonly shape: string;
  /** Area, px². */
  readonly size: number;
  readonly fill: string;
  readonly stroke: string;
  readonly width: number;
}

export interface TextStyle {
  readonly align: "left" | "center" | "right";
  /** What of the text stands at its height: of several lines, of all of them together. */
  readonly baseline: "top" | "middle" | "bottom" | "alphabetic";
  readonly size: number;
  readonly weight: 400 | 600;
  readonly color: string;
  readonly lineHeight: number;
  /** Degrees it is turned by: upright ones run upwards. */
  readonly angle: 0 | -90;
  /** A broad edge in this colour keeps it legible on marks. */
  readonly halo?: string;
}

export interface Text extends TextStyle {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

/** What a picture is made of, in the order in which one kind covers the other. */
interface Kinds {
  /** Light lines behind everything. */
  readonly grid: Rule;
  readonly boxes: Box;
  readonly areas: Area;
  readonly rules: Rule;
  readonly curves: Curve;
  readonly points: Point;
  readonly texts: Text;
}

/** The marks of a picture, by kind. */
export type Marks = { readonly [Kind in keyof Kinds]: readonly Kinds[Kind][] };

/**
 * A picture whose marks are all placed in pixels. Every picture has the same few kinds of marks, so that the drawing program is
 * set up once for all of them: a description of its own for each takes ten times as long as drawing it.
 */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly marks: Marks;
}

/** The marks of several parts, in their order. */
export function together(parts: readonly Partial<Marks>[]): Marks {
  const all = <Kind extends keyof Kinds>(kind: Kind): Kinds[Kind][] =>
    parts.flatMap((part): readonly Kinds[Kind][] => part[kind] ?? []);
  return {
    grid: all("grid"),
    boxes: all("boxes"),
    areas: all("areas"),
    rules: all("rules"),
    curves: all("curves"),
    points: all("points"),
    texts: all("texts"),
  };
}

/** A text of one or several lines. */
export function text(x: number, y: number, words: string, style: Partial<TextStyle> = {}): Text {
  const whole: TextStyle = {
    align: "left",
    baseline: "alphabetic",
    size: 12,
    weight: 400,
    color: theme.palette.ink,
    lineHeight: 14,
    angle: 0,
    ...style,
  };
  // The drawing program places the first line alone.
  const share = { top: 0, alphabetic: 0, middle: 0.5, bottom: 1 }[whole.baseline];
  const lift = (words.split("\n").length - 1) * whole.lineHeight * share;
  return { ...whole, x: whole.angle === 0 ? x : x - lift, y: whole.angle === 0 ? y - lift : y, text: words };
}

/** A line straight across at one height. */
export const across = (frame: Frame, y: number, stroke: string, width: number, dash: readonly number[] = []): Rule => ({
  ...{ x: frame.x, x2: frame.x + frame.width, y, y2: y, stroke, width },
  ...(dash.length > 0 ? { dash } : {}),
});

/** A line straight up and down between two heights. */
export const upright = (
  x: number,
  y: number,
  y2: number,
  stroke: string,
  width: number,
  dash: readonly number[] = [],
): Rule => ({ ...{ x, x2: x, y, y2, stroke, width }, ...(dash.length > 0 ? { dash } : {}) });

/** Where a value stands along a frame, px from the picture's origin. */
export function placeIn(frame: Frame, domain: readonly [number, number], value: number): number {
  return frame.x + (frame.width * (value - domain[0])) / (domain[1] - domain[0]);
}

/** Where a value stands in a frame, px: low at the bottom. */
export function heightIn(frame: Frame, domain: readonly [number, number], value: number): number {
  return frame.y + frame.height * (1 - (value - domain[0]) / (domain[1] - domain[0]));
}
