import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { axisOf, axisTitle, roomyRange, roundRange } from "./axis.js";
import type { Figure, Spec } from "./figure.js";
import { type Entry, entry, legendLayer, looks } from "./legend.js";
import { type Grid, gridFor, panelFigures } from "./panels.js";
import { cutTo } from "./text-width.js";
import { theme } from "./theme.js";

type Lines = Extract<Chart, { kind: "lines" }>;
type Panel = Lines["panels"][number];
const { palette } = theme;

/** Room for the figures and the name of the upright axis, px. */
const beside = 66;
/** More points than this are drawn as a line and a band, without dots and upright intervals. */
const mostDots = 40;

/** Points joined by a line, each with its interval; a fitted line; values marked across and upright. */
export function lines(chart: Lines, words: Words): Figure[] {
  const grid = gridFor(chart.panels.length, [190, 150, 108], beside);
  const panels = chart.panels.map((panel) => ({
    label: isNamedByAxis(panel, chart, words) ? "" : panel.label,
    reading: panel.reading,
    facts: factsOf(panel, words),
    rows: [
      ...panel.points.map(({ x, y, low, high }) => ({ x, y, low, high, many: panel.points.length > mostDots })),
      ...panel.fitted.map(({ x, y }) => ({ x, fitted: y })),
    ],
  }));
  const marks = {
    horizontals: chart.horizontals.map(({ at, label }) => ({ at, name: cutTo(words.text(label), grid.width, 12) })),
    // Each name stands beside its line, towards the middle.
    verticals: chart.verticals.map(({ at, label }, i) => {
      const [low, high] = domainsOf(chart).x;
      const before = at > (low + high) / 2;
      return {
        ...{ at, name: cutTo(words.text(label), grid.width, 12) },
        ...{ align: before ? "right" : "left", dx: before ? -4 : 4, dy: 12 + i * 15 },
      };
    }),
  };
  const title = words.text(chart.x.label);
  return panelFigures({ panels, grid, axisTitle: title, layer: layersOf(chart, grid, words), datasets: marks }, words);
}

/** A lone panel named as its axis is needs no name of its own. */
const isNamedByAxis = (panel: Panel, chart: Lines, words: Words): boolean =>
  chart.panels.length === 1 &&
  factsOf(panel, words).length === 0 &&
  words.text(panel.label) === words.text(chart.y.label);

function factsOf(panel: Panel, words: Words): string[] {
  const n = panel.points.reduce((sum, point) => sum + (point.n ?? 0), 0);
  return n > 0 ? [words.text(message("chart.n", { n }))] : [];
}

function domainsOf(chart: Lines): { readonly x: readonly [number, number]; readonly y: readonly [number, number] } {
  const points = chart.panels.flatMap((panel) => panel.points);
  const all = [...points, ...chart.panels.flatMap((panel) => panel.fitted)];
  return {
    x: roomyRange([...all.map((point) => point.x), ...chart.verticals.map((line) => line.at)]),
    y: roundRange([
      ...points.flatMap((point) => [point.low ?? point.y, point.high ?? point.y]),
      ...all.map((point) => point.y),
      ...chart.horizontals.map((line) => line.at),
    ]),
  };
}

function layersOf(chart: Lines, grid: Grid, words: Words): Spec[] {
  const domains = domainsOf(chart);
  const narrow = grid.width < 260;
  const x = {
    type: "quantitative",
    scale: { domain: domains.x, nice: false, zero: false },
    axis: { title: null, ...axisOf(chart.x.unit, narrow ? 5 : 9, domains.x) },
  };
  const upright = axisTitle(words.text(chart.y.label), grid.height + 30);
  const y = {
    type: "quantitative",
    scale: { domain: domains.y, nice: false, zero: false },
    axis: { title: upright, ...axisOf(chart.y.unit, grid.height > 150 ? 6 : 4, domains.y) },
  };
  const place = { x: { ...x, field: "x" }, y: { ...y, field: "y" } };
  const interval = { x: { ...x, field: "x" }, y: { ...y, field: "low" }, y2: { field: "high" } };
  const both = chart.panels.some((panel) => panel.points.length > 0 && panel.fitted.length > 0);
  const isInterval = "isValid(datum.low) && isValid(datum.high)";
  return [
    {
      transform: [{ filter: `datum.many && ${isInterval}` }],
      mark: { type: "area", fill: palette.blueTint, opacity: 0.5 },
      encoding: interval,
    },
    {
      transform: [{ filter: `!datum.many && ${isInterval}` }],
      mark: { type: "rule", stroke: palette.blue, strokeWidth: 1.2 },
      encoding: interval,
    },
    ...referenceLayers(x, y, grid, grid.columns === 1),
    {
      transform: [{ filter: "isValid(datum.y)" }],
      mark: { type: "line", stroke: palette.blue, strokeWidth: both ? 0.6 : 1.6 },
      encoding: place,
    },
    {
      transform: [{ filter: "isValid(datum.fitted)" }],
      mark: { type: "line", stroke: palette.ochre, strokeWidth: 2.4, ...(both ? { strokeDash: [7, 3] } : {}) },
      encoding: { x: { ...x, field: "x" }, y: { ...y, field: "fitted" } },
    },
    {
      transform: [{ filter: "isValid(datum.y) && !datum.many" }],
      mark: {
        type: "point",
        shape: "circle",
        size: 34,
        fill: palette.blue,
        stroke: palette.paper,
        strokeWidth: 0.8,
        opacity: 1,
      },
      encoding: place,
    },
    ...withLegend(legendOf(chart, words), words),
  ];
}

const withLegend = (entries: readonly Entry[], words: Words): Spec[] =>
  entries.length === 0 ? [] : [legendLayer(entries, words)];

/** Values marked across and upright, with their names. Small panels have no room for those across: there the legend names them. */
function referenceLayers(x: Spec, y: Spec, { height }: Grid, named: boolean): Spec[] {
  const across = { y: { ...y, field: "at" } };
  const names = {
    data: { name: "horizontals" },
    mark: { type: "text", align: "left", baseline: "bottom", dx: 4, dy: -3 },
  };
  return [
    {
      data: { name: "horizontals" },
      mark: { type: "rule", style: "marked-value", strokeDash: [2, 3] },
      encoding: across,
    },
    ...(named ? [{ ...names, encoding: { x: { value: 0 }, ...across, text: { field: "name" } } }] : []),
    {
      data: { name: "verticals" },
      mark: { type: "rule", style: "marked-value", strokeDash: [2, 3] },
      encoding: { x: { ...x, field: "at" }, y: { value: 0 }, y2: { value: height } },
    },
    {
      data: { name: "verticals" },
      mark: {
        ...{ type: "text", baseline: "bottom" },
        ...{ align: { expr: "datum.align" }, dx: { expr: "datum.dx" }, dy: { expr: "datum.dy" } },
      },
      encoding: { x: { ...x, field: "at" }, y: { value: 0 }, text: { field: "name" } },
    },
  ];
}

function legendOf(chart: Lines, words: Words): Entry[] {
  const observed = chart.panels.some((panel) => panel.points.length > 0);
  // A lone line is what the title says it is; beside observed points it needs its name.
  const fitted = chart.panels.some((panel) => panel.fitted.length > 0 && panel.points.length > 0);
  return [
    ...(observed ? [entry(looks.observed, "line-observed", words)] : []),
    ...(fitted ? [entry(looks.fitted, "line-fitted", words)] : []),
    ...(chart.panels.length > 1
      ? chart.horizontals.map((line) => ({ ...looks.markedValue, label: words.text(line.label) }))
      : []),
  ];
}
