import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { grids, type PanelGrid, type PanelPlace, panelGrid, panelTitle } from "./panels.js";
import { textWidth, wrapText } from "./text-width.js";
import { type Spec, theme } from "./theme.js";
import { axisTicks, roundRange, ticksBetween } from "./ticks.js";

type CategoryShares = Extract<Chart, { kind: "category-shares" }>;
type Panel = CategoryShares["panels"][number];
const { palette } = theme;

/** The share of each category as a bar, on the band that chance alone gives, with a dash at what is expected. */
export function categoryShares(drawn: CategoryShares, words: Words): Spec[] {
  const chart = withoutUnit(drawn, words);
  const layout = layoutFor(chart, words);
  const bars = chart.panels.flatMap((panel) => panel.bars);
  const top = roundRange(
    bars.flatMap((bar) => [bar.share, bar.high, bar.expected]),
    "share",
    true,
  )[1];
  return grids(chart.panels, layout, (panel, place) => panelOf(panel, chart, { ...layout, ...place }, top, words));
}

/** A word that all categories end in ('months') goes to the name of the axis, once. */
function withoutUnit(chart: CategoryShares, words: Words): CategoryShares {
  const names = chart.panels.flatMap((panel) => panel.bars.map((bar) => words.text(bar.category).split(" ")));
  const unit = names[0]?.at(-1) ?? "";
  if (names.length < 2 || !names.every((name) => name.length > 1 && name.at(-1) === unit)) return chart;
  const shorter = (category: Panel["bars"][number]["category"]): string =>
    words.text(category).split(" ").slice(0, -1).join(" ");
  return {
    ...chart,
    x: { ...chart.x, label: message("chart.axis-with-unit", { axis: chart.x.label, unit }) },
    panels: chart.panels.map((panel) => ({
      ...panel,
      bars: panel.bars.map((bar) => ({ ...bar, category: shorter(bar.category) })),
    })),
  };
}

/** Size of the names under the bars, px. */
const nameSize = 11;

/** As many panels side by side as leave room for the longest word under a bar. */
function layoutFor(chart: CategoryShares, words: Words): PanelGrid {
  // Many panels are there to be compared, not to be read off: they may be lower.
  const heights = chart.panels.length > 4 ? ([165, 92, 92] as const) : ([150, 130, 105] as const);
  const bars = Math.max(1, ...chart.panels.map((panel) => panel.bars.length));
  const names = chart.panels.flatMap((panel) => panel.bars.map((bar) => words.text(bar.category)));
  const word = Math.max(0, ...names.flatMap((name) => name.split(" ")).map((each) => textWidth(each, nameSize)));
  const layout = (most: 1 | 2 | 3): PanelGrid => panelGrid(chart.panels.length, 34, heights, most, "outer");
  const most = ([3, 2, 1] as const).find((each) => layout(each).width / bars >= word + 3) ?? 1;
  return layout(most);
}

function panelOf(panel: Panel, chart: CategoryShares, layout: PanelGrid & PanelPlace, top: number, words: Words): Spec {
  const step = layout.width / Math.max(panel.bars.length, 1);
  const names = panel.bars.map((bar) => words.text(bar.category));
  const values = panel.bars.map((bar, at) => ({
    share: bar.share,
    expected: bar.expected,
    low: Math.max(0, bar.low),
    high: bar.high,
    fill: bar.share > bar.high || bar.share < bar.low ? palette.ochre : palette.blueTint,
    edge: bar.share > bar.high || bar.share < bar.low ? palette.ink : palette.blue,
    left: at * step,
    right: (at + 1) * step,
    barLeft: at * step + step * 0.22,
    barRight: (at + 1) * step - step * 0.22,
    middle: (at + 0.5) * step,
    name: nameLines(names[at] ?? "", step),
  }));
  const y = (field: string): Spec => ({ field, type: "quantitative" });
  const place = (left: string, right: string): Spec => ({
    x: { field: left, type: "quantitative" },
    x2: { field: right },
  });
  const facts = [words.text(message("chart.n", { n: panel.n }))];
  return {
    width: layout.width,
    height: layout.height,
    title: panelTitle({ label: panel.label, reading: panel.reading, facts }, layout.width, words),
    data: { values },
    encoding: {
      y: {
        type: "quantitative",
        scale: { domain: [0, top], nice: false },
        axis: {
          ...axisTicks(ticksBetween(0, top, layout.height > 150 ? 5 : 4, "share"), "share", words),
          title: null,
          grid: true,
          domain: false,
          ticks: false,
          labels: layout.left,
        },
      },
      x: {
        type: "quantitative",
        scale: { domain: [0, layout.width], nice: false },
        axis: xAxis(chart, layout, words, names, step),
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
          ...place("left", "right"),
          y: y("low"),
          y2: { field: "high" },
        },
      },
      {
        mark: { type: "rect", strokeWidth: 1 },
        encoding: {
          ...place("barLeft", "barRight"),
          y: y("share"),
          y2: { datum: 0 },
          fill: { field: "fill", type: "nominal", scale: null },
          stroke: { field: "edge", type: "nominal", scale: null },
        },
      },
      {
        mark: { type: "rule", stroke: palette.ink, strokeWidth: 1.6 },
        encoding: { ...place("left", "right"), y: y("expected") },
      },
      {
        mark: {
          type: "text",
          baseline: "top",
          fontSize: nameSize,
          lineBreak: "\n",
          dy: 5,
        },
        encoding: {
          x: { field: "middle", type: "quantitative" },
          y: { value: layout.height },
          text: { field: "name" },
        },
      },
    ],
  };
}

function nameLines(name: string, step: number): string {
  return wrapText(name, Math.max(step - 2, 12), nameSize).join("\n");
}

/** The base line only: the names under it are drawn one by one, so that long ones break into lines. */
function xAxis(
  chart: CategoryShares,
  layout: PanelGrid & PanelPlace,
  words: Words,
  names: readonly string[],
  step: number,
): Spec {
  const lines = Math.max(1, ...names.map((name) => nameLines(name, step).split("\n").length));
  if (!layout.bottom) return { labels: false, ticks: false, grid: false, title: null };
  const title = words.text(chart.x.label);
  const shown = textWidth(title, 12) <= layout.width ? title : wrapText(title, layout.width, 12);
  return {
    labels: false,
    ticks: false,
    grid: false,
    title: shown,
    titlePadding: lines * 14 + 8,
  };
}
