import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { grids, type PanelGrid, panelGrid, panelTitle } from "./panels.js";
import { type Spec, theme } from "./theme.js";
import { axisTicks, ticksBetween } from "./ticks.js";

type ZDistribution = Extract<Chart, { kind: "z-distribution" }>;
type Panel = ZDistribution["panels"][number];
const { palette } = theme;

/** Density of the standard normal distribution: what the standard's own children have. */
const normalDensity = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

const density = (panel: Panel, bin: Panel["bins"][number]): number =>
  panel.n > 0 ? bin.count / (panel.n * (bin.to - bin.from)) : 0;

/** Observed z-scores as steps, the standard's own curve as a line, -2 and -3 marked. */
export function zDistribution(chart: ZDistribution, words: Words): Spec[] {
  const layout = panelGrid(chart.panels.length, 8, [200, 160, 125]);
  const bins = chart.panels.flatMap((panel) => panel.bins);
  const filled = bins.filter((bin) => bin.count > 0);
  const from = Math.min(-4, ...filled.map((bin) => bin.from));
  const to = Math.max(4, ...filled.map((bin) => bin.to));
  const top =
    1.08 * Math.max(normalDensity(0), ...chart.panels.flatMap((panel) => panel.bins.map((bin) => density(panel, bin))));
  const domain = { from: Math.floor(from), to: Math.ceil(to), top };
  return grids(chart.panels, layout, (panel) => panelOf(panel, layout, domain, words));
}

function panelOf(
  panel: Panel,
  layout: PanelGrid,
  domain: { readonly from: number; readonly to: number; readonly top: number },
  words: Words,
): Spec {
  const bars = panel.bins
    .filter((bin) => bin.count > 0)
    .map((bin) => ({
      from: bin.from,
      to: bin.to,
      height: density(panel, bin),
      fill: fillOf(bin.to),
    }));
  const points = 160;
  const curve = Array.from({ length: points + 1 }, (_, i) => {
    const z = domain.from + ((domain.to - domain.from) * i) / points;
    return { z, height: normalDensity(z) };
  });
  const marks = [-3, -2].map((z) => ({
    z,
    label: words.number(z, "degrees-of-freedom"),
  }));
  const facts = [
    words.text(message("chart.n", { n: panel.n })),
    words.text(message("chart.mean", { value: words.number(panel.mean, "z") })),
    words.text(
      message("chart.standard-deviation", {
        value: words.number(panel.standardDeviation, "z"),
      }),
    ),
  ];
  const ticks = ticksBetween(domain.from, domain.to, layout.width > 250 ? 12 : 6, "z");
  const z = (field: string): Spec => ({
    field,
    type: "quantitative",
    scale: { domain: [domain.from, domain.to], nice: false },
  });
  return {
    width: layout.width,
    height: layout.height,
    title: panelTitle({ label: panel.label, facts }, layout.width, words),
    encoding: {
      x: {
        type: "quantitative",
        axis: {
          ...axisTicks(ticks, "z", words),
          title: words.text(message("axis.z-score")),
        },
      },
      y: {
        type: "quantitative",
        scale: { domain: [0, domain.top], nice: false },
        axis: null,
      },
    },
    layer: [
      {
        data: { values: bars },
        mark: { type: "rect", stroke: palette.blue, strokeWidth: 0.7 },
        encoding: {
          x: z("from"),
          x2: { field: "to" },
          y: { field: "height", type: "quantitative" },
          y2: { datum: 0 },
          fill: { field: "fill", type: "nominal", scale: null },
        },
      },
      {
        data: { values: curve },
        mark: {
          type: "line",
          stroke: palette.ink,
          strokeWidth: 1.7,
          clip: true,
        },
        encoding: { x: z("z"), y: { field: "height", type: "quantitative" } },
      },
      {
        data: { values: marks },
        mark: {
          type: "rule",
          stroke: palette.ink,
          strokeWidth: 1,
          strokeDash: [4, 3],
        },
        encoding: { x: z("z"), y: { value: 8 }, y2: { value: layout.height } },
      },
      {
        data: { values: marks },
        mark: {
          type: "text",
          baseline: "bottom",
          fontSize: 12,
          fontWeight: 600,
        },
        encoding: { x: z("z"), y: { value: 6 }, text: { field: "label" } },
      },
    ],
  };
}

/** Children under -2 and under -3 stand out: they are what the prevalences count. */
function fillOf(to: number): string {
  if (to <= -3 + 1e-9) return palette.ochre;
  return to <= -2 + 1e-9 ? palette.ochreTint : palette.blueTint;
}
