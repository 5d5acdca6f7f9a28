import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { textWidth, wrapText } from "./text-width.js";
import { type Spec, theme } from "./theme.js";
import { axisTicks, roundRange, ticksBetween } from "./ticks.js";

type Panel = Extract<Chart, { kind: "against-chance" }>["panels"][number];
type Row = Panel["rows"][number];
const { palette } = theme;

const width = 560;
const height = 360;

/** True for a value outside what chance alone gives at its own number of children. */
const isOutside = (row: Row): boolean =>
  (row.chanceLow !== null && row.value < row.chanceLow) || (row.chanceHigh !== null && row.value > row.chanceHigh);

/** How far outside, in widths of the row's own band. */
function distance(row: Row): number {
  const low = row.chanceLow ?? row.expected ?? row.value;
  const high = row.chanceHigh ?? row.expected ?? row.value;
  const beyond = Math.max(low - row.value, row.value - high, 0);
  return high > low ? beyond / (high - low) : beyond;
}

/** Limits by number of children; where several surveys have the same number, the mean of theirs. */
function limits(rows: readonly Row[], side: "chanceLow" | "chanceHigh" | "expected"): { n: number; at: number }[] {
  const sums = new Map<number, { sum: number; count: number }>();
  for (const row of rows) {
    const value = row[side];
    if (value === null) continue;
    const known = sums.get(row.n) ?? { sum: 0, count: 0 };
    sums.set(row.n, { sum: known.sum + value, count: known.count + 1 });
  }
  return [...sums].map(([n, { sum, count }]) => ({ n, at: sum / count })).sort((a, b) => a.n - b.n);
}

/** A quality figure of many surveys by their number of children, with the limits of chance narrowing as it grows. */
export function funnel(panel: Panel, named: boolean, words: Words): Spec {
  const values = panel.rows.flatMap((row) => [row.value, row.chanceLow, row.chanceHigh, row.expected]);
  const y = roundRange(
    values.filter((value) => value !== null),
    panel.unit,
  );
  const counts = panel.rows.map((row) => row.n);
  const x: readonly [number, number] = [0, roundRange([0, Math.max(...counts)], "count", true)[1]];
  const outside = panel.rows.filter(isOutside);
  const placed = labelsOf(outside, x, y, words);
  const facts = message("chart.funnel.outside", {
    outside: outside.length,
    surveys: panel.rows.length,
    named: placed.length,
  });
  return {
    width,
    height,
    title: titleOf(named ? words.text(panel.label) : null, wrapText(words.text(facts), width, 12)),
    encoding: {
      x: axisOf("n", x, 7, "count", words.text(message("axis.children")), words),
      y: axisOf("value", y, 6, panel.unit, words.text(panel.label), words),
    },
    layer: [
      ...limitMarks(panel.rows),
      dots(
        panel.rows.filter((row) => !isOutside(row)),
        "circle",
        22,
        palette.blueTint,
        palette.blue,
      ),
      dots(outside, "diamond", 80, palette.ochre, palette.ink),
      ...placed.map(({ row, side }) => ({
        data: { values: [{ n: row.n, value: row.value, text: words.text(row.label) }] },
        mark: { type: "text", align: side, dx: side === "left" ? 8 : -8, baseline: "middle" },
        encoding: { x: at("n"), y: at("value"), text: { field: "text" } },
      })),
    ],
  };
}

/** What lies outside, in words; under the name of the figure where the chart has several. */
const titleOf = (name: string | null, facts: readonly string[]): Spec =>
  name === null
    ? { text: [...facts], fontSize: 12, fontWeight: 400, color: palette.quiet }
    : { text: wrapText(name, width, 13, 600), subtitle: [...facts] };

const at = (field: string): Spec => ({ field, type: "quantitative" });

function axisOf(
  field: string,
  domain: readonly [number, number],
  count: number,
  unit: Panel["unit"],
  title: string,
  words: Words,
): Spec {
  return {
    ...at(field),
    scale: { domain: [...domain], nice: false, zero: false },
    axis: { ...axisTicks(ticksBetween(domain[0], domain[1], count, unit), unit, words), title },
  };
}

function limitMarks(rows: readonly Row[]): Spec[] {
  const low = limits(rows, "chanceLow");
  const high = limits(rows, "chanceHigh");
  const encoding = { x: at("n"), y: at("at") };
  const line = (values: { n: number; at: number }[], stroke: string, more: Spec): Spec[] =>
    values.length === 0
      ? []
      : [{ data: { values }, mark: { type: "line", stroke, strokeWidth: 1.2, ...more }, encoding }];
  const lows = new Map(low.map((each) => [each.n, each.at]));
  const both = high.flatMap((each) => {
    const other = lows.get(each.n);
    return other === undefined ? [] : [{ n: each.n, at: each.at, other }];
  });
  const area = { ...encoding, y2: { field: "other" } };
  return [
    ...(both.length === 0
      ? []
      : [{ data: { values: both }, mark: { type: "area", fill: palette.chance }, encoding: area }]),
    ...line(low, palette.quiet, {}),
    ...line(high, palette.quiet, {}),
    ...line(limits(rows, "expected"), palette.ink, { strokeDash: [4, 3] }),
  ];
}

function dots(rows: readonly Row[], shape: string, size: number, fill: string, stroke: string): Spec {
  return {
    data: { values: rows.map(({ n, value }) => ({ n, value })) },
    mark: { type: "point", shape, size, fill, stroke, strokeWidth: 1.2, opacity: 1 },
    encoding: { x: at("n"), y: at("value") },
  };
}

interface Placed {
  readonly row: Row;
  readonly side: "left" | "right";
}

/** Names beside the dots outside, the furthest first, as many as do not run into each other. */
function labelsOf(
  outside: readonly Row[],
  x: readonly [number, number],
  y: readonly [number, number],
  words: Words,
): Placed[] {
  const px = (row: Row): number => (width * (row.n - x[0])) / (x[1] - x[0]);
  const py = (row: Row): number => height * (1 - (row.value - y[0]) / (y[1] - y[0]));
  const taken: { from: number; to: number; y: number; half: number }[] = outside.map((row) => ({
    from: px(row) - 5,
    to: px(row) + 5,
    y: py(row),
    half: 3,
  }));
  const placed: Placed[] = [];
  const order = outside.map((row, i) => ({ row, i })).sort((a, b) => distance(b.row) - distance(a.row));
  for (const { row, i } of order) {
    const length = textWidth(words.text(row.label), 12);
    for (const side of ["left", "right"] as const) {
      const from = side === "left" ? px(row) + 8 : px(row) - 8 - length;
      const to = from + length;
      const free = taken.every(
        (box, j) => j === i || Math.abs(box.y - py(row)) >= box.half + 6 || box.to < from || box.from > to,
      );
      if (!free || from < 0 || to > width + 30) continue;
      taken.push({ from, to, y: py(row), half: 6 });
      placed.push({ row, side });
      break;
    }
  }
  return placed;
}
