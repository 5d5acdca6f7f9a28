import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { type Axis, axisFor } from "./axes.js";
import { type PanelTitle, panelGrid, panelPictures, panelTitle, roomBeside } from "./panel-frame.js";
import {
  across,
  type Curve,
  type Frame,
  heightIn,
  type Marks,
  type Picture,
  placeIn,
  text,
  together,
  upright,
} from "./picture.js";
import { cutTo } from "./text-width.js";
import { theme } from "./theme.js";
import { roundRange } from "./ticks.js";

type Lines = Extract<Chart, { kind: "lines" }>;
type Panel = Lines["panels"][number];
const { palette } = theme;

/** More points than this are drawn as a line and a band, without dots and upright intervals. */
const mostDots = 40;

/** Points joined by a line, each with its interval; a fitted line; values marked across and upright. */
export function lines(chart: Lines, words: Words): Picture[] {
  const axes = axesOf(chart, words);
  const grid = panelGrid(chart.panels.length, [190, 150, 108], (height) => {
    const { x, y } = axes(false, height);
    return roomBeside(x, y, height);
  });
  const { x, y } = axes(grid.width < 260, grid.height);
  const scale = {
    x: (frame: Frame, value: number): number => placeIn(frame, x.domain, value),
    y: (frame: Frame, value: number): number => heightIn(frame, y.domain, value),
  };
  return panelPictures({
    panels: chart.panels,
    grid,
    across: x,
    upright: y,
    titleOf: (panel) => titleOf(panel, chart, grid.width, words),
    marksIn: (panel, frame) =>
      together([
        intervalMarks(panel, frame, scale),
        valueMarks(panel, frame, scale),
        acrossReferences(chart, frame, scale, grid.columns === 1, words),
        uprightReferences(chart, frame, scale, words),
      ]),
  });
}

/** Places of values in a frame, px. */
interface Scale {
  readonly x: (frame: Frame, value: number) => number;
  readonly y: (frame: Frame, value: number) => number;
}

/** Both axes, for frames narrow or wide and so high: all panels have the same. */
function axesOf(
  chart: Lines,
  words: Words,
): (narrow: boolean, height: number) => { readonly x: Axis; readonly y: Axis } {
  const points = chart.panels.flatMap((panel) => panel.points);
  const fitted = chart.panels.flatMap((panel) => panel.fitted);
  const ys = [
    ...points.flatMap((point) => [point.y, point.low ?? point.y, point.high ?? point.y]),
    ...fitted.map((point) => point.y),
  ];
  const xs = [...points, ...fitted].map((point) => point.x);
  const xDomain = spread([...xs, ...chart.verticals.map((line) => line.at)]);
  const yDomain = roundRange([...ys, ...chart.horizontals.map((line) => line.at)], chart.y.unit);
  return (narrow, height) => ({
    x: axisFor(xDomain, narrow ? 5 : 9, chart.x.unit, words.text(chart.x.label), words),
    y: axisFor(yDomain, height > 150 ? 6 : 4, chart.y.unit, words.text(chart.y.label), words),
  });
}

/** Range with a little room at both ends, so that no point stands on the frame. */
function spread(values: readonly number[]): readonly [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  if (!Number.isFinite(low)) return [0, 1];
  const room = (high - low) * 0.03 || 0.5;
  return [low - room, high + room];
}

function titleOf(panel: Panel, chart: Lines, width: number, words: Words): PanelTitle {
  const n = panel.points.reduce((sum, point) => sum + (point.n ?? 0), 0);
  const facts = n > 0 ? [words.text(message("chart.n", { n }))] : [];
  // A lone panel named as its axis is needs no name of its own.
  const named = words.text(panel.label) === words.text(chart.y.label);
  if (chart.panels.length === 1 && facts.length === 0 && named) return { name: [], facts: [] };
  return panelTitle({ label: panel.label, reading: panel.reading, facts }, width, words);
}

/** Few points carry an upright interval each; many are covered by a band. */
function intervalMarks(panel: Panel, frame: Frame, { x, y }: Scale): Partial<Marks> {
  const placed = panel.points.flatMap((point) =>
    point.low === undefined || point.high === undefined
      ? []
      : [{ x: x(frame, point.x), y: y(frame, point.low), y2: y(frame, point.high) }],
  );
  if (placed.length > mostDots) return { areas: [{ points: placed, fill: palette.blueTint, opacity: 0.5 }] };
  return { rules: placed.map((each) => upright(each.x, each.y, each.y2, palette.blue, 1.2)) };
}

/** The line through the points, a dot at each unless they are many, and the fitted line. */
function valueMarks(panel: Panel, frame: Frame, { x, y }: Scale): Partial<Marks> {
  const placed = (points: readonly { readonly x: number; readonly y: number }[]) =>
    points.map((point) => ({ x: x(frame, point.x), y: y(frame, point.y) })).sort((a, b) => a.x - b.x);
  const [points, fitted] = [placed(panel.points), placed(panel.fitted)];
  const curves: Curve[] = [
    { points, stroke: palette.blue, width: fitted.length > 0 ? 0.6 : 1.6 },
    { points: fitted, stroke: palette.ochre, width: 2.4, ...(points.length > 0 ? { dash: [7, 3] } : {}) },
  ];
  const style = { shape: "circle", size: 34, fill: palette.blue, stroke: palette.paper, width: 0.8 };
  return {
    curves: curves.filter((curve) => curve.points.length > 0),
    points: points.length > mostDots ? [] : points.map((point) => ({ ...point, ...style })),
  };
}

const dash = [2, 3] as const;

/** Values marked across, each named on its line. Small frames have no room for it: there the key names the line. */
function acrossReferences(chart: Lines, frame: Frame, { y }: Scale, named: boolean, words: Words): Partial<Marks> {
  const heights = chart.horizontals.map((line) => y(frame, line.at));
  const name = (line: Lines["horizontals"][number]): string => cutTo(words.text(line.label), frame.width, 12);
  return {
    rules: heights.map((height) => across(frame, height, palette.ink, 1, dash)),
    texts: named
      ? chart.horizontals.map((line, i) => text(frame.x + 4, (heights[i] ?? 0) - 3, name(line), { baseline: "bottom" }))
      : [],
  };
}

/** Values marked upright, each named beside its line, towards the middle. */
function uprightReferences(chart: Lines, frame: Frame, { x }: Scale, words: Words): Partial<Marks> {
  const placed = chart.verticals.map((line) => ({ line, at: x(frame, line.at) }));
  return {
    rules: placed.map(({ at }) => upright(at, frame.y, frame.y + frame.height, palette.ink, 1, dash)),
    texts: placed.map(({ line, at }, i) => {
      const align = at > frame.x + frame.width / 2 ? "right" : "left";
      const name = cutTo(words.text(line.label), frame.width, 12);
      return text(at + (align === "left" ? 4 : -4), frame.y + 12 + i * 15, name, { align, baseline: "bottom" });
    }),
  };
}
