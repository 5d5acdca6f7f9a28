import { message } from "../../results/message.js";
import type { Chart, Unit } from "../../results/schema.js";
import type { Words } from "../words.js";
import { grids, type PanelGrid, type PanelPlace, panelGrid, panelTitle } from "./panels.js";
import { wrapText } from "./text-width.js";
import { type Spec, theme } from "./theme.js";
import { axisTicks, roundRange, ticksBetween } from "./ticks.js";

type Lines = Extract<Chart, { kind: "lines" }>;
type Panel = Lines["panels"][number];
const { palette } = theme;

interface Frame {
  readonly x: readonly [number, number];
  readonly y: readonly [number, number];
}

/** Points joined by a line, each with its interval; a fitted line; values marked across and upright. */
export function lines(chart: Lines, words: Words): Spec[] {
  const layout = panelGrid(chart.panels.length, chart.panels.length > 3 ? 46 : 54, [190, 150, 108]);
  const points = chart.panels.flatMap((panel) => panel.points);
  const fitted = chart.panels.flatMap((panel) => panel.fitted);
  const ys = [
    ...points.flatMap((point) => [point.y, point.low ?? point.y, point.high ?? point.y]),
    ...fitted.map((point) => point.y),
  ];
  const xs = [...points, ...fitted].map((point) => point.x);
  const frame: Frame = {
    x: spread([...xs, ...chart.verticals.map((line) => line.at)]),
    y: roundRange([...ys, ...chart.horizontals.map((line) => line.at)], chart.y.unit),
  };
  return grids(chart.panels, layout, (panel, place) => panelOf(panel, chart, { ...layout, ...place }, frame, words));
}

/** Range with a little room at both ends, so that no point stands on the frame. */
function spread(values: readonly number[]): readonly [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  if (!Number.isFinite(low)) return [0, 1];
  const room = (high - low) * 0.03 || 0.5;
  return [low - room, high + room];
}

function panelOf(panel: Panel, chart: Lines, layout: PanelGrid & PanelPlace, frame: Frame, words: Words): Spec {
  const n = panel.points.reduce((sum, point) => sum + (point.n ?? 0), 0);
  const facts = n > 0 ? [words.text(message("chart.n", { n }))] : [];
  const narrow = layout.width < 260;
  return {
    width: layout.width,
    height: layout.height,
    // A lone panel named as its axis is needs no name of its own.
    ...(chart.panels.length === 1 && facts.length === 0 && words.text(panel.label) === words.text(chart.y.label)
      ? {}
      : { title: panelTitle({ label: panel.label, reading: panel.reading, facts }, layout.width, words) }),
    encoding: {
      x: axisOf(chart.x, frame.x, narrow ? 5 : 9, layout.width, words, layout.bottom ? {} : { title: null }),
      y: axisOf(chart.y, frame.y, layout.height > 150 ? 6 : 4, layout.height, words, {
        grid: true,
        domain: false,
        ticks: false,
        ...(layout.left ? {} : { title: null }),
      }),
    },
    layer: [...intervalMarks(panel), ...lineMarks(panel), ...references(chart, frame, layout, words)],
  };
}

function axisOf(
  axis: { readonly label: Lines["x"]["label"]; readonly unit: Unit },
  domain: readonly [number, number],
  count: number,
  length: number,
  words: Words,
  more: Spec,
): Spec {
  return {
    type: "quantitative",
    scale: { domain: [...domain], nice: false, zero: false },
    axis: {
      ...axisTicks(ticksBetween(domain[0], domain[1], count, axis.unit), axis.unit, words),
      title: wrapText(words.text(axis.label), length + 20, 12),
      ...more,
    },
  };
}

const at = (field: string): Spec => ({ field, type: "quantitative" });

/** Few points carry an upright interval each; many are covered by a band. */
function intervalMarks(panel: Panel): Spec[] {
  const values = panel.points.filter((point) => point.low !== undefined && point.high !== undefined);
  if (values.length === 0) return [];
  const encoding = { x: at("x"), y: at("low"), y2: { field: "high" } };
  if (values.length > 40)
    return [
      {
        data: { values },
        mark: {
          type: "area",
          fill: palette.blueTint,
          opacity: 0.5,
          stroke: null,
        },
        encoding,
      },
    ];
  return [
    {
      data: { values },
      mark: { type: "rule", stroke: palette.blue, strokeWidth: 1.2 },
      encoding,
    },
  ];
}

function lineMarks(panel: Panel): Spec[] {
  const encoding = { x: at("x"), y: at("y") };
  const data = { values: [...panel.points] };
  const marks: Spec[] = [
    {
      data,
      mark: {
        type: "line",
        stroke: palette.blue,
        strokeWidth: panel.fitted.length > 0 ? 0.6 : 1.6,
      },
      encoding,
    },
  ];
  if (panel.points.length <= 40) {
    marks.push({
      data,
      mark: {
        type: "point",
        shape: "circle",
        size: 34,
        fill: palette.blue,
        stroke: palette.paper,
        strokeWidth: 0.8,
        opacity: 1,
      },
      encoding,
    });
  }
  if (panel.fitted.length > 0) {
    marks.push({
      data: { values: [...panel.fitted] },
      mark: {
        type: "line",
        stroke: palette.ochre,
        strokeWidth: 2.4,
        ...(panel.points.length > 0 ? { strokeDash: [7, 3] } : {}),
      },
      encoding,
    });
  }
  return marks;
}

/** Marked values with their names: one across stands on its line, an upright one beside it, towards the middle. */
function references(chart: Lines, frame: Frame, layout: PanelGrid, words: Words): Spec[] {
  const across = chart.horizontals.map((line) => ({
    y: line.at,
    x: frame.x[0],
    label: words.text(line.label),
  }));
  const middle = (frame.x[0] + frame.x[1]) / 2;
  const upright = chart.verticals.map((line, i) => ({
    x: line.at,
    label: words.text(line.label),
    top: 12 + i * 15,
    side: line.at > middle ? "right" : "left",
  }));
  const dashed = {
    type: "rule",
    stroke: palette.ink,
    strokeWidth: 1,
    strokeDash: [2, 3],
  };
  const marks: Spec[] = [];
  if (across.length > 0) {
    marks.push({
      data: { values: across },
      mark: dashed,
      encoding: { y: at("y") },
    });
    // Small pictures have no room for it: there the key names the line.
    if (layout.columns === 1)
      marks.push({
        data: { values: across },
        mark: {
          type: "text",
          align: "left",
          baseline: "bottom",
          dx: 4,
          dy: -3,
          limit: layout.width,
        },
        encoding: { x: at("x"), y: at("y"), text: { field: "label" } },
      });
  }
  if (upright.length > 0) {
    marks.push({
      data: { values: upright },
      mark: dashed,
      encoding: { x: at("x") },
    });
    for (const side of ["left", "right"]) {
      marks.push({
        data: { values: upright.filter((line) => line.side === side) },
        mark: {
          type: "text",
          align: side,
          baseline: "bottom",
          dx: side === "left" ? 4 : -4,
          limit: layout.width,
        },
        encoding: {
          x: at("x"),
          y: { field: "top", type: "quantitative", scale: null },
          text: { field: "label" },
        },
      });
    }
  }
  return marks;
}
