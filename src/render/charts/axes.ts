import type { Unit } from "../../results/schema.js";
import type { Words } from "../words.js";
import { across, type Frame, heightIn, type Marks, placeIn, text, upright } from "./picture.js";
import { textWidth, wrapText } from "./text-width.js";
import { theme } from "./theme.js";
import { type AxisTick, axisTicks, ticksBetween } from "./ticks.js";

const { palette } = theme;

/** What an axis counts: frames that are to be compared share one. */
export interface Axis {
  readonly domain: readonly [number, number];
  readonly ticks: readonly AxisTick[];
  readonly title: string;
  /** Room for the name, px, where there is more than the frame is long. */
  readonly titleWidth?: number;
}

/** An axis with about `count` round values, written as the language writes them in this unit. */
export function axisFor(
  domain: readonly [number, number],
  count: number,
  unit: Unit,
  title: string,
  words: Words,
): Axis {
  return { domain, ticks: axisTicks(ticksBetween(domain[0], domain[1], count, unit), unit, words), title };
}

/** Size of the names and figures of an axis, px, and how far its lines of text stand apart. */
const letters = 12;
const lineHeight = 14;
const tickLength = 4;
const labelGap = 3;
const titleGap = 5;

/** Room below a frame for the figures of its axis, px. */
export const labelRoom = tickLength + labelGap + letters;

/** A name as wide as its axis, in lines. */
const titleLines = (title: string, length: number): string[] => (title === "" ? [] : wrapText(title, length, letters));

/** Room for the name of an axis across below its figures, px. */
export const titleRoom = (title: string, length: number): number => {
  const lines = titleLines(title, length).length;
  return lines === 0 ? 0 : titleGap + lines * lineHeight;
};

/** How far half a figure at the end of an axis reaches beyond its frame, px. */
export function overhang({ domain, ticks }: Axis, end: 0 | 1): number {
  const near = (at: number): boolean => Math.abs(at - domain[end]) < (domain[1] - domain[0]) * 0.02;
  return Math.max(0, ...ticks.filter(({ at }) => near(at)).map((tick) => textWidth(tick.text, letters) / 2));
}

/** The base line of a frame with ticks and figures below it; the name below `below`, where it has one. */
export function acrossAxis(frame: Frame, axis: Axis, named = true, below = labelRoom): Partial<Marks> {
  const bottom = frame.y + frame.height;
  const at = (value: number): number => placeIn(frame, axis.domain, value);
  const stub = (value: number) => upright(at(value), bottom, bottom + tickLength, palette.quiet, 1);
  const figures = axis.ticks.map((tick) =>
    text(at(tick.at), bottom + tickLength + labelGap, tick.text, { align: "center", baseline: "top" }),
  );
  const lines = named ? titleLines(axis.title, axis.titleWidth ?? frame.width) : [];
  const title = text(frame.x + frame.width / 2, bottom + below + titleGap, lines.join("\n"), {
    align: "center",
    baseline: "top",
    color: palette.quiet,
  });
  return {
    rules: [across(frame, bottom, palette.quiet, 1), ...axis.ticks.map((tick) => stub(tick.at))],
    texts: lines.length > 0 ? [...figures, title] : figures,
  };
}

/** Room before a frame for the figures and the name of its upright axis, px. */
export function uprightRoom(axis: Axis, height: number): number {
  const lines = titleLines(axis.title, height + 20).length;
  return widestOf(axis) + labelGap + (lines === 0 ? 0 : titleGap + lines * lineHeight);
}

const widestOf = (axis: Axis): number => Math.max(0, ...axis.ticks.map((tick) => textWidth(tick.text, letters)));

/** Light lines across a frame at the ticks of its upright axis. */
export function gridLines(frame: Frame, axis: Axis): Partial<Marks> {
  return { grid: axis.ticks.map(({ at }) => across(frame, heightIn(frame, axis.domain, at), palette.grid, 1)) };
}

/** The figures and the name of an upright axis, before its frame; with a line and ticks where `drawn`. */
export function uprightAxis(frame: Frame, axis: Axis, drawn = false): Partial<Marks> {
  const end = frame.x - labelGap - (drawn ? tickLength : 0);
  const at = (value: number): number => heightIn(frame, axis.domain, value);
  const figures = axis.ticks.map((tick) => text(end, at(tick.at), tick.text, { align: "right", baseline: "middle" }));
  const lines = titleLines(axis.title, frame.height + 20);
  const title = text(end - widestOf(axis) - titleGap, frame.y + frame.height / 2, lines.join("\n"), {
    align: "center",
    baseline: "bottom",
    color: palette.quiet,
    angle: -90,
  });
  const stubs = axis.ticks.map((tick) =>
    across({ ...frame, x: frame.x - tickLength, width: tickLength }, at(tick.at), palette.quiet, 1),
  );
  return {
    rules: drawn ? [upright(frame.x, frame.y, frame.y + frame.height, palette.quiet, 1), ...stubs] : [],
    texts: lines.length > 0 ? [...figures, title] : figures,
  };
}
