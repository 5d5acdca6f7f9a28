import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { type Axis, axisFor } from "./axes.js";
import { type PanelGrid, panelGrid, panelPictures, panelTitle, roomBeside } from "./panel-frame.js";
import { across, type Frame, heightIn, type Marks, type Picture, text } from "./picture.js";
import { textWidth, wrapText } from "./text-width.js";
import { theme } from "./theme.js";
import { roundRange } from "./ticks.js";

type CategoryShares = Extract<Chart, { kind: "category-shares" }>;
type Panel = CategoryShares["panels"][number];
const { palette } = theme;

/** The share of each category as a bar, on the band that chance alone gives, with a dash at what is expected. */
export function categoryShares(drawn: CategoryShares, words: Words): Picture[] {
  const chart = withoutUnit(drawn, words);
  const namesOf = (panel: Panel): string[] => panel.bars.map((bar) => words.text(bar.category));
  // The names under the bars are drawn one by one, so that long ones break into lines.
  const categories: Axis = { domain: [0, 1], ticks: [], title: words.text(chart.x.label) };
  const { grid, shares } = layoutFor(chart, chart.panels.flatMap(namesOf), categories, words);
  const lines = chart.panels.flatMap((panel) =>
    namesOf(panel).map((name) => nameLines(name, grid.width / panel.bars.length).length),
  );
  return panelPictures({
    panels: chart.panels,
    grid,
    across: categories,
    upright: shares,
    below: Math.max(1, ...lines) * 14 + 3,
    titleOf: (panel) => {
      const facts = [words.text(message("chart.n", { n: panel.n }))];
      return panelTitle({ label: panel.label, reading: panel.reading, facts }, grid.width, words);
    },
    marksIn: (panel, frame) => barMarks(panel, namesOf(panel), frame, shares.domain),
  });
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

/** Size of the names under the bars, px: the smallest that print keeps above 7.5 points, since many stand in a line. */
const nameSize = 11.7;

/** As many panels side by side as leave room for the longest word under a bar, and the axis of the shares. */
function layoutFor(
  chart: CategoryShares,
  names: readonly string[],
  categories: Axis,
  words: Words,
): { readonly grid: PanelGrid; readonly shares: Axis } {
  // Many panels are there to be compared, not to be read off: they may be lower.
  const heights = chart.panels.length > 4 ? ([165, 92, 92] as const) : ([150, 130, 105] as const);
  const all = chart.panels.flatMap((panel) => panel.bars);
  const values = all.flatMap((bar) => [bar.share, bar.high, bar.expected]);
  const top = roundRange(values, "share", true)[1];
  const shares = (height: number): Axis => axisFor([0, top], height > 150 ? 5 : 4, "share", "", words);
  const bars = Math.max(1, ...chart.panels.map((panel) => panel.bars.length));
  const word = Math.max(0, ...names.flatMap((name) => name.split(" ")).map((each) => textWidth(each, nameSize)));
  const layout = (most: 1 | 2 | 3): PanelGrid =>
    panelGrid(chart.panels.length, heights, (height) => roomBeside(categories, shares(height), height), most);
  const most = ([3, 2, 1] as const).find((each) => layout(each).width / bars >= word + 2.5) ?? 1;
  const grid = layout(most);
  return { grid, shares: shares(grid.height) };
}

const nameLines = (name: string, step: number): string[] => wrapText(name, Math.max(step - 1, 12), nameSize);

function barMarks(
  panel: Panel,
  names: readonly string[],
  frame: Frame,
  domain: readonly [number, number],
): Partial<Marks> {
  const step = frame.width / Math.max(panel.bars.length, 1);
  const y = (share: number): number => heightIn(frame, domain, share);
  const placed = panel.bars.map((bar, i) => ({ bar, x: frame.x + i * step, x2: frame.x + (i + 1) * step }));
  const chance = placed.map(({ bar, x, x2 }) => ({
    ...{ x, x2, y: y(Math.max(0, bar.low)), y2: y(bar.high) },
    ...{ fill: palette.chance, stroke: palette.chance, width: 0.6 },
  }));
  const bars = placed.map(({ bar, x, x2 }) => {
    const outside = bar.share > bar.high || bar.share < bar.low;
    return {
      ...{ x: x + step * 0.22, x2: x2 - step * 0.22, y: y(bar.share), y2: y(0), width: 1 },
      ...(outside ? { fill: palette.ochre, stroke: palette.ink } : { fill: palette.blueTint, stroke: palette.blue }),
    };
  });
  const under = { align: "center", baseline: "top", size: nameSize } as const;
  const bottom = frame.y + frame.height + 5;
  return {
    boxes: [...chance, ...bars],
    rules: placed.map(({ bar, x }) => across({ ...frame, x, width: step }, y(bar.expected), palette.ink, 1.6)),
    texts: placed.map(({ x }, i) => text(x + step / 2, bottom, nameLines(names[i] ?? "", step).join("\n"), under)),
  };
}
