import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { axisOf, axisTitle } from "./axis.js";
import type { Figure, Spec } from "./figure.js";
import { entry, legendLayer, looks } from "./legend.js";
import { theme } from "./theme.js";

type CountsOver = Extract<Chart, { kind: "counts-over" }>;
type Bar = CountsOver["bars"][number];
const { palette } = theme;
const [width, height] = [theme.width - 66, 180];

const isOutside = (bar: Bar): boolean => bar.count > bar.high || bar.count < bar.low;

/** Counts at each step as bars, the expected count as a line with the band that chance alone gives. */
export function countsOver(chart: CountsOver, words: Words): Figure[] {
  const step = stepOf(chart);
  const rows = chart.bars.map((bar) => ({
    ...{ from: bar.at - step / 2, to: bar.at + step / 2, barFrom: bar.at - 0.36 * step, barTo: bar.at + 0.36 * step },
    ...{ at: bar.at, count: bar.count, expected: bar.expected, low: Math.max(0, bar.low), high: bar.high },
    ...{ outside: isOutside(bar), multiple: bar.emphasis },
  }));
  const ends: [number, number] = [Math.min(...rows.map((row) => row.from)), Math.max(...rows.map((row) => row.to))];
  const across = {
    type: "quantitative",
    scale: { domain: ends, nice: false },
    axis: { title: axisTitle(words.text(chart.x.label), width), ...axisOf(chart.x.unit, 12, ends) },
  };
  const title = axisTitle(words.text(message("axis.children")), height + 20);
  return [
    {
      spec: {
        width,
        height,
        data: { name: "rows" },
        layer: layersOf(chart, across, { title, ...axisOf("count", 5) }, words),
      },
      datasets: { rows },
    },
  ];
}

/** How far the steps stand apart; 1 where there is one alone. */
function stepOf(chart: CountsOver): number {
  const at = chart.bars.map((bar) => bar.at);
  const gaps = at.slice(1).map((value, i) => value - (at[i] ?? value));
  const step = Math.min(...gaps.filter((gap) => gap > 0));
  return Number.isFinite(step) ? step : 1;
}

function layersOf(chart: CountsOver, across: Spec, counts: Spec, words: Words): Spec[] {
  const upright = { type: "quantitative", axis: counts };
  const wide = { x: { ...across, field: "from" }, x2: { field: "to" } };
  return [
    {
      mark: { type: "rect", fill: palette.chance, stroke: palette.chance, strokeWidth: 0.6 },
      encoding: { ...wide, y: { ...upright, field: "low" }, y2: { field: "high" } },
    },
    {
      mark: { type: "rect", strokeWidth: 0.8 },
      encoding: {
        ...{
          x: { ...across, field: "barFrom" },
          x2: { field: "barTo" },
          y: { ...upright, field: "count" },
          y2: { datum: 0 },
        },
        fill: { condition: { test: "datum.outside", value: palette.ochre }, value: palette.blueTint },
        stroke: { condition: { test: "datum.outside", value: palette.ink }, value: palette.blue },
      },
    },
    {
      mark: { type: "rule", stroke: palette.ink, strokeWidth: 1.4 },
      encoding: { ...wide, y: { ...upright, field: "expected" } },
    },
    {
      transform: [{ filter: "datum.multiple" }],
      mark: { type: "rect", fill: palette.ink },
      encoding: {
        x: { ...across, field: "barFrom" },
        x2: { field: "barTo" },
        y: { value: height },
        y2: { value: height + 3 },
      },
    },
    legendLayer(
      [
        entry(looks.bar, "observed-count", words),
        ...(chart.bars.some(isOutside) ? [entry(looks.strongBar, "share-outside", words)] : []),
        ...(chart.bars.some((bar) => bar.emphasis) ? [entry(looks.multiple, "count-emphasis", words)] : []),
        entry(looks.expected, "expected", words),
        entry(looks.chance, "chance-band", words),
      ],
      words,
    ),
  ];
}
