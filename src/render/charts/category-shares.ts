import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { axisOf } from "./axis.js";
import type { Figure, Spec } from "./figure.js";
import { entry, legendLayer, looks } from "./legend.js";
import { type Grid, gridFor, panelFigures } from "./panels.js";
import { textWidth, wrapText } from "./text-width.js";
import { theme } from "./theme.js";

type CategoryShares = Extract<Chart, { kind: "category-shares" }>;
type Bar = CategoryShares["panels"][number]["bars"][number];
const { palette } = theme;

/** Room for the figures of the shares, px. */
const beside = 56;
/** Size of the names under the bars, px: the smallest that print keeps above 7.5 points, since many stand in a line. */
const nameSize = 11.7;

const isOutside = (bar: Bar): boolean => bar.share > bar.high || bar.share < bar.low;

/** The share of each category as a bar, on the band that chance alone gives, with a dash at what is expected. */
export function categoryShares(given: CategoryShares, words: Words): Figure[] {
  const { chart, unit } = withoutUnit(given, words);
  const grid = gridOf(chart, words);
  const bars = Math.max(1, ...chart.panels.map((panel) => panel.bars.length));
  const nameOf = (bar: Bar): string =>
    wrapText(words.text(bar.category), Math.max(grid.width / bars - 1, 12), nameSize).join("\n");
  const panels = chart.panels.map((panel) => ({
    ...panel,
    facts: [words.text(message("chart.n", { n: panel.n }))],
    rows: panel.bars.map((bar, place) => ({
      ...{ place, category: nameOf(bar), share: bar.share, expected: bar.expected },
      ...{ low: Math.max(0, bar.low), high: bar.high, outside: isOutside(bar) },
    })),
  }));
  const axisTitle = words.text(
    unit === "" ? chart.x.label : message("chart.axis-with-unit", { axis: chart.x.label, unit }),
  );
  const layer = layersOf(chart, words);
  return panelFigures({ panels, grid, axisTitle, encoding: { x: categories }, layer, ownAcross: true }, words);
}

const categories: Spec = {
  field: "category",
  type: "nominal",
  sort: { field: "place", op: "min" },
  scale: { padding: 0 },
  axis: { title: null, ticks: false, labelAngle: 0, labelFontSize: nameSize, labelExpr: "split(datum.label, '\\n')" },
};

function layersOf(chart: CategoryShares, words: Words): Spec[] {
  const shares = { type: "quantitative", title: null, axis: axisOf("share", 4) };
  const filled = { transform: [{ filter: "isValid(datum.category)" }] };
  const outside = chart.panels.some((panel) => panel.bars.some(isOutside));
  return [
    {
      ...filled,
      mark: { type: "bar", fill: palette.chance, stroke: palette.chance, strokeWidth: 0.6, width: { band: 1 } },
      encoding: { y: { ...shares, field: "low" }, y2: { field: "high" } },
    },
    {
      ...filled,
      mark: { type: "bar", width: { band: 0.56 }, strokeWidth: 1 },
      encoding: {
        y: { ...shares, field: "share" },
        fill: { condition: { test: "datum.outside", value: palette.ochre }, value: palette.blueTint },
        stroke: { condition: { test: "datum.outside", value: palette.ink }, value: palette.blue },
      },
    },
    {
      ...filled,
      mark: { type: "tick", orient: "horizontal", width: { band: 1 }, thickness: 1.6, color: palette.ink },
      encoding: { y: { ...shares, field: "expected" } },
    },
    legendLayer(
      [
        entry(looks.bar, "observed-share", words),
        ...(outside ? [entry(looks.strongBar, "share-outside", words)] : []),
        entry(looks.expected, "expected", words),
        entry(looks.chance, "chance-band", words),
      ],
      words,
    ),
  ];
}

/** A word that all categories end in ('months') goes to the name of the axis, once. */
function withoutUnit(chart: CategoryShares, words: Words): { readonly chart: CategoryShares; readonly unit: string } {
  const names = chart.panels.flatMap((panel) => panel.bars.map((bar) => words.text(bar.category).split(" ")));
  const unit = names[0]?.at(-1) ?? "";
  if (names.length < 2 || !names.every((name) => name.length > 1 && name.at(-1) === unit)) return { chart, unit: "" };
  const shorter = (bar: Bar): Bar => ({
    ...bar,
    category: words.text(bar.category).split(" ").slice(0, -1).join(" "),
  });
  return { unit, chart: { ...chart, panels: chart.panels.map((one) => ({ ...one, bars: one.bars.map(shorter) })) } };
}

/** As many panels side by side as leave room for the longest word under a bar. */
function gridOf({ panels }: CategoryShares, words: Words): Grid {
  // Many panels are there to be compared, not to be read off: they may be lower.
  const heights = panels.length > 4 ? ([165, 92, 92] as const) : ([150, 130, 105] as const);
  const bars = Math.max(1, ...panels.map((panel) => panel.bars.length));
  const names = panels.flatMap((panel) => panel.bars.map((bar) => words.text(bar.category)));
  const word = Math.max(0, ...names.flatMap((name) => name.split(" ")).map((each) => textWidth(each, nameSize)));
  const wide = ([3, 2] as const).find((most) => {
    const { width } = gridFor(panels.length, heights, beside, most);
    return width / bars >= word + 2.5;
  });
  return gridFor(panels.length, heights, beside, wide ?? 1);
}
