import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { axisOf } from "./axis.js";
import type { Figure, Row, Spec } from "./figure.js";
import { type Entry, entry, legendLayer, looks } from "./legend.js";
import { type Grid, panelFigures } from "./panels.js";
import { cutTo, wrapAtMost } from "./text-width.js";
import { theme } from "./theme.js";

type Rounds = Extract<Chart, { kind: "rounds" }>;
type Panel = Rounds["panels"][number];
const { palette } = theme;

/** Panels side by side by how many places there are, and how many rows of them fit a page. */
const shapes = [
  { upTo: 1, columns: 1, height: 120, rows: 1 },
  { upTo: 4, columns: 2, height: 120, rows: 4 },
  { upTo: 12, columns: 3, height: 86, rows: 5 },
  { upTo: Number.POSITIVE_INFINITY, columns: 4, height: 64, rows: 6 },
] as const;
const gap = 20;
const beside = 66;

/** Days since 1970-01-01 of an ISO day, by universal time; NaN for what is no day. */
const timeOf = (iso: string): number => Date.parse(`${iso}T00:00:00Z`);
const dayLength = 86_400_000;

/** Estimates over the calendar, one small panel a place, all on the same axes. */
export function rounds(chart: Rounds, words: Words): Figure[] {
  const { columns, height, rows } = shapes.find((each) => chart.panels.length <= each.upTo) ?? shapes[3];
  const width = Math.floor((theme.width - 12 - beside - (columns - 1) * gap) / columns);
  const grid = { columns, width, height };
  const clear = words.text(message("chart.clear-change"));
  const panels = chart.panels.map((panel) => ({
    label: panel.label,
    facts: panel.emphasis ? [clear] : [],
    rows: rowsOf(panel, grid, chart, words),
  }));
  return panelFigures({ panels, grid, axisTitle: "", layer: layersOf(chart, grid, words), rowsAPicture: rows }, words);
}

/** The points of a place in their order; the value of the last one is written, and of the first where there is room. */
function rowsOf({ points, emphasis }: Panel, { columns }: Grid, chart: Rounds, words: Words): Row[] {
  const known = points.filter((point) => Number.isFinite(timeOf(point.day)));
  const ordered = [...known].sort((a, b) => timeOf(a.day) - timeOf(b.day));
  return ordered.map((point, i) => {
    const isWritten = i === ordered.length - 1 || (i === 0 && columns <= 3);
    const value = words.number(point.value, chart.y.unit);
    const name = columns <= 2 ? `${cutTo(point.label, 90, 12)}\n` : "";
    return {
      ...{ day: timeOf(point.day), value: point.value, clear: emphasis, hollow: point.marked === true },
      ...{ low: point.low ?? point.value, high: point.high ?? point.value },
      ...(isWritten ? { written: `${name}${value}`, align: alignOf(i, ordered.length) } : {}),
    };
  });
}

const alignOf = (i: number, count: number): string => (count === 1 ? "center" : i === 0 ? "left" : "right");

/** From a little before the first survey to a little after the last one; three months at least. */
function calendarOf({ panels }: Rounds): readonly [number, number] {
  const times = panels.flatMap((panel) => panel.points.map((point) => timeOf(point.day))).filter(Number.isFinite);
  const low = times.length === 0 ? 0 : Math.min(...times);
  const span = Math.max(times.length === 0 ? 0 : Math.max(...times) - low, 90 * dayLength);
  return [low - 0.15 * span, low + 1.15 * span];
}

const yearOf = "utcFormat(datum.value, '%Y')";

function layersOf(chart: Rounds, { columns, width, height }: Grid, words: Words): Spec[] {
  const domain = calendarOf(chart);
  const months = (domain[1] - domain[0]) / dayLength / 30;
  const step = [1, 2, 3, 6, 12, 24, 60].find((each) => months / each <= width / 42) ?? 120;
  const x = {
    field: "day",
    type: "temporal",
    scale: { type: "utc", domain, nice: false },
    axis: {
      title: null,
      tickCount: step >= 12 ? { interval: "year", step: step / 12 } : { interval: "month", step },
      // The month, and below it the year where it begins to differ.
      labelExpr:
        step >= 12
          ? yearOf
          : `[utcFormat(datum.value, '%b'), datum.index === 0 || utcmonth(datum.value) < ${step} ? ${yearOf} : '']`,
    },
  };
  const title = wrapAtMost(words.text(chart.y.label), height + 30, 12, 400, 3);
  const y = { type: "quantitative", axis: { title, ...axisOf(chart.y.unit, height > 100 ? 5 : 3) } };
  const colour = { expr: `datum.clear ? '${palette.blue}' : '${palette.quiet}'` };
  const value = { x, y: { ...y, field: "value" } };
  const isRound = { transform: [{ filter: "isValid(datum.value)" }] };
  return [
    {
      ...isRound,
      mark: { type: "line", strokeWidth: 0.9 },
      encoding: {
        ...value,
        stroke: { condition: { test: "datum.clear", value: palette.blue }, value: palette.quiet },
      },
    },
    {
      ...isRound,
      mark: { type: "rule", strokeWidth: 1.8, stroke: colour },
      encoding: { x, y: { ...y, field: "low" }, y2: { field: "high" } },
    },
    {
      ...isRound,
      mark: {
        ...{
          type: "point",
          opacity: 1,
          shape: "circle",
          size: columns > 2 ? 30 : 44,
          strokeWidth: 1.5,
          stroke: colour,
        },
        fill: { expr: `datum.hollow ? '${palette.paper}' : datum.clear ? '${palette.blue}' : '${palette.quiet}'` },
      },
      encoding: value,
    },
    {
      transform: [{ filter: "isValid(datum.written)" }],
      mark: {
        ...{ type: "text", baseline: "bottom", align: { expr: "datum.align" } },
        dx: { expr: "datum.align === 'left' ? -8 : datum.align === 'right' ? 8 : 0" },
        dy: { expr: "-4 - 14 * (split(datum.written, '\\n').length - 1)" },
      },
      encoding: { x, y: { ...y, field: "high" }, text: { field: "written" } },
    },
    legendLayer(legendOf(chart, words), words),
  ];
}

function legendOf({ panels }: Rounds, words: Words): Entry[] {
  const marked = panels.some((panel) => panel.points.some((point) => point.marked === true));
  return [
    ...changeEntries(
      panels.map((panel) => panel.emphasis),
      words,
    ),
    ...(marked ? [entry(looks.hollowGreyDot, "interval-marked", words)] : []),
  ];
}

/** Dots of places whose last change is clear, and of others. */
export function changeEntries(clear: readonly boolean[], words: Words): Entry[] {
  const some = clear.includes(true);
  return [
    ...(some ? [entry(looks.dot, "round-clear", words)] : []),
    ...(clear.includes(false) ? [entry(looks.greyDot, some ? "round-other" : "interval", words)] : []),
  ];
}
