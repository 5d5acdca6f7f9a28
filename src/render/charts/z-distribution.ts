import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import type { Figure, Spec } from "./figure.js";
import { entry, legendLayer, looks } from "./legend.js";
import { gridFor, panelFigures } from "./panels.js";
import { theme } from "./theme.js";

type ZDistribution = Extract<Chart, { kind: "z-distribution" }>;
type Panel = ZDistribution["panels"][number];
const { palette } = theme;

/** Observed z-scores as steps, the standard's own normal curve as a line, -2 and -3 marked. */
export function zDistribution(chart: ZDistribution, words: Words): Figure[] {
  const grid = gridFor(chart.panels.length, [200, 160, 125], 32);
  const filled = chart.panels.flatMap((panel) => panel.bins.filter((bin) => bin.count > 0));
  const from = Math.floor(Math.min(-4, ...filled.map((bin) => bin.from)));
  const to = Math.ceil(Math.max(4, ...filled.map((bin) => bin.to)));
  const panels = chart.panels.map((panel) => ({
    label: panel.label,
    facts: factsOf(panel, words),
    rows: rowsOf(panel),
  }));
  const axisTitle = words.text(message("axis.z-score"));
  const layer = layersOf([from, to], grid.width > 250 ? 12 : 6, words);
  return panelFigures({ panels, grid, axisTitle, layer }, words);
}

const rowsOf = ({ n, bins }: Panel) =>
  bins
    .filter((bin) => bin.count > 0)
    .map(({ from, to, count }) => ({ from, to, density: n > 0 ? count / (n * (to - from)) : 0 }));

/** Number of children, their mean and standard deviation. */
const factsOf = (panel: Panel, words: Words): string[] => [
  words.text(message("chart.n", { n: panel.n })),
  words.text(message("chart.mean", { value: words.number(panel.mean, "z") })),
  words.text(message("chart.standard-deviation", { value: words.number(panel.standardDeviation, "z") })),
];

function layersOf(domain: readonly [number, number], ticks: number, words: Words): Spec[] {
  const across = {
    type: "quantitative",
    scale: { domain, nice: false },
    axis: { title: null, tickCount: ticks, format: "~f" },
  };
  const upright = { type: "quantitative", axis: null };
  return [
    {
      mark: { type: "rect", strokeWidth: 0.7, stroke: palette.blue },
      encoding: {
        x: { ...across, field: "from" },
        x2: { field: "to" },
        y: { ...upright, field: "density" },
        y2: { datum: 0 },
        // Children under -2 and under -3 stand out: they are what the prevalences count.
        fill: {
          condition: [
            { test: "datum.to <= -3 + 1e-9", value: palette.ochre },
            { test: "datum.to <= -2 + 1e-9", value: palette.ochreTint },
          ],
          value: palette.blueTint,
        },
      },
    },
    {
      data: { sequence: { start: domain[0], stop: domain[1] + 0.05, step: 0.1, as: "z" } },
      transform: [{ calculate: "exp(-datum.z * datum.z / 2) / sqrt(2 * PI)", as: "density" }],
      mark: { type: "line", stroke: palette.ink, strokeWidth: 1.7 },
      encoding: { x: { ...across, field: "z" }, y: { ...upright, field: "density" } },
    },
    ...[-3, -2].map((z) => ({
      data: { values: [{}] },
      mark: { type: "rule", style: "marked-value" },
      encoding: { x: { ...across, datum: z } },
    })),
    legendLayer(
      [
        entry(looks.bar, "z-observed", words),
        entry(looks.below2, "z-below-2", words),
        entry(looks.below3, "z-below-3", words),
        entry(looks.standard, "z-standard", words),
      ],
      words,
    ),
  ];
}
