import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { type Axis, axisFor } from "./axes.js";
import { type PanelTitle, panelGrid, panelPictures, panelTitle, roomBeside } from "./panel-frame.js";
import { type Frame, heightIn, type Marks, type Picture, placeIn, text, upright } from "./picture.js";
import { theme } from "./theme.js";

type ZDistribution = Extract<Chart, { kind: "z-distribution" }>;
type Panel = ZDistribution["panels"][number];
const { palette } = theme;

/** Density of the standard normal distribution: what the standard's own children have. */
const normalDensity = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

const density = (panel: Panel, bin: Panel["bins"][number]): number =>
  panel.n > 0 ? bin.count / (panel.n * (bin.to - bin.from)) : 0;

/** Observed z-scores as steps, the standard's own curve as a line, -2 and -3 marked. */
export function zDistribution(chart: ZDistribution, words: Words): Picture[] {
  const bins = chart.panels.flatMap((panel) => panel.bins);
  const filled = bins.filter((bin) => bin.count > 0);
  const from = Math.floor(Math.min(-4, ...filled.map((bin) => bin.from)));
  const to = Math.ceil(Math.max(4, ...filled.map((bin) => bin.to)));
  const top =
    1.08 * Math.max(normalDensity(0), ...chart.panels.flatMap((panel) => panel.bins.map((bin) => density(panel, bin))));
  const axis = (count: number): Axis => axisFor([from, to], count, "z", words.text(message("axis.z-score")), words);
  const grid = panelGrid(chart.panels.length, [200, 160, 125], (height) => roomBeside(axis(12), null, height));
  const scores = axis(grid.width > 250 ? 12 : 6);
  return panelPictures({
    panels: chart.panels,
    grid,
    across: scores,
    upright: null,
    titleOf: (panel) => titleOf(panel, grid.width, words),
    marksIn: (panel, frame) => densityMarks(panel, frame, scores.domain, top, words),
  });
}

/** The name over the number of children, their mean and standard deviation. */
function titleOf(panel: Panel, width: number, words: Words): PanelTitle {
  const standardDeviation = words.number(panel.standardDeviation, "z");
  const facts = [
    words.text(message("chart.n", { n: panel.n })),
    words.text(message("chart.mean", { value: words.number(panel.mean, "z") })),
    words.text(message("chart.standard-deviation", { value: standardDeviation })),
  ];
  return panelTitle({ label: panel.label, facts }, width, words);
}

function densityMarks(
  panel: Panel,
  frame: Frame,
  domain: readonly [number, number],
  top: number,
  words: Words,
): Partial<Marks> {
  const x = (z: number): number => placeIn(frame, domain, z);
  const y = (height: number): number => heightIn(frame, [0, top], height);
  const points = 100;
  const curve = Array.from({ length: points + 1 }, (_, i) => {
    const z = domain[0] + ((domain[1] - domain[0]) * i) / points;
    return { x: x(z), y: y(normalDensity(z)) };
  });
  const marked = [-3, -2];
  const style = { align: "center", baseline: "bottom", weight: 600 } as const;
  return {
    boxes: panel.bins
      .filter((bin) => bin.count > 0)
      .map((bin) => ({
        ...{ x: x(bin.from), x2: x(bin.to), y: y(density(panel, bin)), y2: y(0) },
        ...{ fill: fillOf(bin.to), stroke: palette.blue, width: 0.7 },
      })),
    curves: [{ points: curve, stroke: palette.ink, width: 1.7 }],
    rules: marked.map((z) => upright(x(z), frame.y + 8, frame.y + frame.height, palette.ink, 1, [4, 3])),
    texts: marked.map((z) => text(x(z), frame.y + 6, words.number(z, "degrees-of-freedom"), style)),
  };
}

/** Children under -2 and under -3 stand out: they are what the prevalences count. */
function fillOf(to: number): string {
  if (to <= -3 + 1e-9) return palette.ochre;
  return to <= -2 + 1e-9 ? palette.ochreTint : palette.blueTint;
}
