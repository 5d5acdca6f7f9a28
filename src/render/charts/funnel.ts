import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { acrossAxis, axisFor, uprightAxis } from "./axes.js";
import { type PanelTitle, titleHeight, titleMarks } from "./panel-frame.js";
import {
  type Curve,
  type Frame,
  heightIn,
  type Marks,
  type Picture,
  placeIn,
  type Text,
  text,
  together,
} from "./picture.js";
import { textWidth, wrapText } from "./text-width.js";
import { theme } from "./theme.js";
import { roundRange } from "./ticks.js";

type Panel = Extract<Chart, { kind: "against-chance" }>["panels"][number];
type Row = Panel["rows"][number];
const { palette } = theme;

const width = 560;
const height = 360;
const frame: Frame = { x: 0, y: 0, width, height };

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
export function funnel(panel: Panel, named: boolean, words: Words): Picture {
  const values = panel.rows.flatMap((row) => [row.value, row.chanceLow, row.chanceHigh, row.expected]);
  const y = roundRange(
    values.filter((value) => value !== null),
    panel.unit,
  );
  const counts = panel.rows.map((row) => row.n);
  const x: readonly [number, number] = [0, roundRange([0, Math.max(...counts)], "count", true)[1]];
  const outside = panel.rows.filter(isOutside);
  const rest = panel.rows.filter((row) => !isOutside(row));
  const scale: Scale = { x: (n) => placeIn(frame, x, n), y: (value) => heightIn(frame, y, value) };
  const placed = labelsOf(outside, scale, words);
  const facts = message("chart.funnel.outside", {
    outside: outside.length,
    surveys: panel.rows.length,
    named: placed.length,
  });
  const title = titleOf(named ? words.text(panel.label) : null, wrapText(words.text(facts), width, 12));
  const across = axisFor(x, 7, "count", words.text(message("axis.children")), words);
  const upright = axisFor(y, 6, panel.unit, words.text(panel.label), words);
  return {
    width,
    height,
    marks: together([
      acrossAxis(frame, across),
      uprightAxis(frame, upright, true),
      titleMarks(title, frame, titleHeight(title)),
      limitMarks(panel.rows, scale),
      dots(rest, scale, { shape: "circle", size: 22, fill: palette.blueTint, stroke: palette.blue }),
      dots(outside, scale, { shape: "diamond", size: 80, fill: palette.ochre, stroke: palette.ink }),
      { texts: placed.map(({ row, side }) => nameOf(row, side, scale, words)) },
    ]),
  };
}

/** What lies outside, in words; under the name of the figure where the chart has several. */
const titleOf = (name: string | null, facts: readonly string[]): PanelTitle => ({
  name: name === null ? [] : wrapText(name, width, 13, 600),
  facts,
});

/** Places of a survey by its number of children and its value, px. */
interface Scale {
  readonly x: (n: number) => number;
  readonly y: (value: number) => number;
}

function nameOf(row: Row, side: Placed["side"], { x, y }: Scale, words: Words): Text {
  const beside = side === "left" ? 8 : -8;
  return text(x(row.n) + beside, y(row.value), words.text(row.label), { align: side, baseline: "middle" });
}

function limitMarks(rows: readonly Row[], { x, y }: Scale): Partial<Marks> {
  const low = limits(rows, "chanceLow");
  const high = limits(rows, "chanceHigh");
  const line = (values: readonly { n: number; at: number }[], stroke: string, dash: readonly number[] = []): Curve => ({
    points: values.map(({ n, at }) => ({ x: x(n), y: y(at) })),
    ...{ stroke, width: 1.2, dash },
  });
  const lows = new Map(low.map((each) => [each.n, each.at]));
  const both = high.flatMap((each) => {
    const other = lows.get(each.n);
    return other === undefined ? [] : [{ x: x(each.n), y: y(each.at), y2: y(other) }];
  });
  const curves = [
    line(low, palette.quiet),
    line(high, palette.quiet),
    line(limits(rows, "expected"), palette.ink, [4, 3]),
  ];
  return { areas: [{ points: both, fill: palette.chance, opacity: 1 }], curves };
}

function dots(
  rows: readonly Row[],
  { x, y }: Scale,
  style: { readonly shape: string; readonly size: number; readonly fill: string; readonly stroke: string },
): Partial<Marks> {
  return { points: rows.map(({ n, value }) => ({ x: x(n), y: y(value), width: 1.2, ...style })) };
}

interface Placed {
  readonly row: Row;
  readonly side: "left" | "right";
}

/** Names beside the dots outside, the furthest first, as many as do not run into each other. */
function labelsOf(outside: readonly Row[], { x, y }: Scale, words: Words): Placed[] {
  const px = (row: Row): number => x(row.n);
  const py = (row: Row): number => y(row.value);
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
