import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { type Spec, theme } from "./theme.js";
import { axisTicks, roundRange, ticksBetween } from "./ticks.js";

type CountsOver = Extract<Chart, { kind: "counts-over" }>;
const { palette } = theme;

/** Counts at each step as bars, the expected count as a line with the band that chance alone gives. */
export function countsOver(chart: CountsOver, words: Words): Spec {
  const at = chart.bars.map((bar) => bar.at);
  const step = Math.min(
    ...at
      .slice(1)
      .map((value, i) => value - (at[i] ?? value))
      .filter((gap) => gap > 0),
    1e9,
  );
  const width = step === 1e9 ? 1 : step;
  const low = Math.min(...at) - width / 2;
  const high = Math.max(...at) + width / 2;
  const top = roundRange(
    chart.bars.flatMap((bar) => [bar.count, bar.high, bar.expected]),
    "count",
    true,
  )[1];
  const values = chart.bars.map((bar) => ({
    ...bar,
    low: Math.max(0, bar.low),
    from: bar.at - width / 2,
    to: bar.at + width / 2,
    barFrom: bar.at - width * 0.36,
    barTo: bar.at + width * 0.36,
    fill: bar.emphasis ? palette.ochre : palette.blueTint,
    edge: bar.emphasis ? palette.ink : palette.blue,
  }));
  const x = (field: string): Spec => ({ field, type: "quantitative" });
  const rect = (from: string, to: string): Spec => ({
    x: x(from),
    x2: { field: to },
  });
  const edges = values.flatMap((bar) => [
    { at: bar.from, expected: bar.expected },
    { at: bar.to, expected: bar.expected },
  ]);
  return {
    width: theme.width - 56,
    height: 180,
    data: { values },
    encoding: {
      x: {
        type: "quantitative",
        scale: { domain: [low, high], nice: false },
        axis: {
          ...axisTicks(ticksBetween(low, high, 12, chart.x.unit), chart.x.unit, words),
          title: words.text(chart.x.label),
        },
      },
      y: {
        type: "quantitative",
        scale: { domain: [0, top], nice: false },
        axis: {
          ...axisTicks(ticksBetween(0, top, 5, "count"), "count", words),
          title: words.text(message("axis.children")),
          grid: true,
          domain: false,
          ticks: false,
        },
      },
    },
    layer: [
      {
        mark: {
          type: "rect",
          fill: palette.chance,
          stroke: palette.chance,
          strokeWidth: 0.6,
        },
        encoding: {
          ...rect("from", "to"),
          y: { field: "low", type: "quantitative" },
          y2: { field: "high" },
        },
      },
      {
        mark: { type: "rect", strokeWidth: 0.8 },
        encoding: {
          ...rect("barFrom", "barTo"),
          y: { field: "count", type: "quantitative" },
          y2: { datum: 0 },
          fill: { field: "fill", type: "nominal", scale: null },
          stroke: { field: "edge", type: "nominal", scale: null },
        },
      },
      {
        data: { values: edges },
        mark: { type: "line", stroke: palette.ink, strokeWidth: 1.4 },
        encoding: {
          x: x("at"),
          y: { field: "expected", type: "quantitative" },
          order: { field: "at", type: "quantitative" },
        },
      },
    ],
  };
}
