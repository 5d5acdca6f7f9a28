import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { axisOf, axisTitle } from "./axis.js";
import type { Figure, Row, Spec } from "./figure.js";
import { entry, legendLayer, looks } from "./legend.js";
import { textWidth, wrapText } from "./text-width.js";
import { theme } from "./theme.js";

type Panel = Extract<Chart, { kind: "against-chance" }>["panels"][number];
type Survey = Panel["rows"][number];
const { palette } = theme;
const [width, height] = [560, 360];
/** Names of at most so many surveys: more could not be told apart. */
const mostNames = 12;

/** True for a value outside what chance alone gives at its own number of children. */
const isOutside = (row: Survey): boolean =>
  (row.chanceLow !== null && row.value < row.chanceLow) || (row.chanceHigh !== null && row.value > row.chanceHigh);

/** How far outside, in widths of the row's own band. */
function distance(row: Survey): number {
  const low = row.chanceLow ?? row.expected ?? row.value;
  const high = row.chanceHigh ?? row.expected ?? row.value;
  const beyond = Math.max(low - row.value, row.value - high, 0);
  return high > low ? beyond / (high - low) : beyond;
}

/** The surveys outside, the furthest first, whose names have room beside their dots. */
function namedOnes(rows: readonly Survey[], words: Words): Survey[] {
  const most = Math.max(1, ...rows.map((row) => row.n));
  const values = rows.map((row) => row.value);
  const [low, span] = [Math.min(...values), Math.max(...values) - Math.min(...values) || 1];
  const taken: { readonly x: number; readonly y: number; readonly length: number }[] = [];
  const named: Survey[] = [];
  for (const row of rows.filter(isOutside).sort((a, b) => distance(b) - distance(a))) {
    const length = textWidth(words.text(row.label), 12);
    const [x, y] = [(row.n / most) * width, ((row.value - low) / span) * height];
    const free = taken.every(
      (one) => Math.abs(one.y - y) >= 14 || one.x > x + length + 12 || x > one.x + one.length + 12,
    );
    if (!free || named.length >= mostNames) continue;
    taken.push({ x, y, length });
    named.push(row);
  }
  return named;
}

/** A quality figure of many surveys by their number of children, with the limits of chance narrowing as it grows. */
export function funnel(panel: Panel, isNamed: boolean, words: Words): Figure {
  const named = namedOnes(panel.rows, words);
  const facts = message("chart.funnel.outside", {
    outside: panel.rows.filter(isOutside).length,
    surveys: panel.rows.length,
    named: named.length,
  });
  const rows: Row[] = panel.rows.map((row) => ({
    ...{ n: row.n, value: row.value, low: row.chanceLow, high: row.chanceHigh, expected: row.expected },
    ...{ outside: isOutside(row), name: named.includes(row) ? words.text(row.label) : null },
  }));
  const said = { subtitle: wrapText(words.text(facts), width, 12), subtitleColor: palette.ink };
  const title = { text: isNamed ? wrapText(words.text(panel.label), width, 13, 600) : [], fontSize: 13, ...said };
  return {
    spec: { width, height, title, data: { name: "rows" }, layer: layersOf(panel, words) },
    datasets: { rows },
  };
}

function layersOf(panel: Panel, words: Words): Spec[] {
  const x = {
    ...{ field: "n", type: "quantitative", scale: { zero: true } },
    axis: { title: words.text(message("axis.children")), ...axisOf("count", 7) },
  };
  const axis = {
    title: axisTitle(words.text(panel.label), height),
    domain: true,
    ticks: true,
    ...axisOf(panel.unit, 6),
  };
  const y = { type: "quantitative", scale: { zero: false }, axis };
  // Limits by number of children; where several surveys have the same number, the mean of theirs.
  const limits = {
    transform: [
      {
        groupby: ["n"],
        aggregate: ["low", "high", "expected"].map((field) => ({ op: "mean", field, as: field })),
      },
    ],
  };
  const limit = (field: string, stroke: string): Spec => ({
    ...limits,
    mark: { type: "line", stroke, strokeWidth: 1.2, ...(field === "expected" ? { strokeDash: [4, 3] } : {}) },
    encoding: { x, y: { ...y, field } },
  });
  const dots = (outside: boolean, look: Spec): Spec => ({
    transform: [{ filter: outside ? "datum.outside" : "!datum.outside" }],
    mark: { type: "point", opacity: 1, strokeWidth: 1.2, ...look },
    encoding: { x, y: { ...y, field: "value" } },
  });
  return [
    {
      ...limits,
      mark: { type: "area", fill: palette.chance },
      encoding: { x, y: { ...y, field: "low" }, y2: { field: "high" } },
    },
    ...["low", "high"].map((field) => limit(field, palette.quiet)),
    limit("expected", palette.ink),
    dots(false, { shape: "circle", size: 22, fill: palette.blueTint, stroke: palette.blue }),
    dots(true, { shape: "diamond", size: 80, fill: palette.ochre, stroke: palette.ink }),
    {
      transform: [{ filter: "isValid(datum.name)" }],
      mark: {
        ...{ type: "text", baseline: "middle" },
        // Towards the middle, where there is room.
        align: { expr: `datum.n > domain('x')[1] * 0.7 ? 'right' : 'left'` },
        dx: { expr: `datum.n > domain('x')[1] * 0.7 ? -8 : 8` },
      },
      encoding: { x, y: { ...y, field: "value" }, text: { field: "name" } },
    },
    legendLayer(
      [
        entry(looks.chance, "chance-band", words),
        ...(panel.rows.some((row) => row.expected !== null) ? [entry(looks.expected, "expected", words)] : []),
        entry(looks.diamond, "survey-outside", words),
      ],
      words,
    ),
  ];
}
