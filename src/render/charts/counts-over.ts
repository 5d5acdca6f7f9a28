import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { type Axis, acrossAxis, axisFor, gridLines, uprightAxis } from "./axes.js";
import { roomBeside } from "./panel-frame.js";
import { type Frame, heightIn, type Marks, type Picture, placeIn, together } from "./picture.js";
import { theme } from "./theme.js";
import { roundRange } from "./ticks.js";

type CountsOver = Extract<Chart, { kind: "counts-over" }>;
const { palette } = theme;
const height = 180;

/** Counts at each step as bars, the expected count as a line with the band that chance alone gives. */
export function countsOver(chart: CountsOver, words: Words): Picture {
  const step = stepOf(chart);
  const at = chart.bars.map((bar) => bar.at);
  const ends = [Math.min(...at) - step / 2, Math.max(...at) + step / 2] as const;
  const x = axisFor(ends, 12, chart.x.unit, words.text(chart.x.label), words);
  const values = chart.bars.flatMap((bar) => [bar.count, bar.high, bar.expected]);
  const top = roundRange(values, "count", true)[1];
  const y = axisFor([0, top], 5, "count", words.text(message("axis.children")), words);
  const { start, end } = roomBeside(x, y, height);
  const frame: Frame = { x: start, y: 0, width: Math.floor(theme.width - 6 - start - end), height };
  return {
    width: frame.x + frame.width,
    height,
    marks: together([
      gridLines(frame, y),
      acrossAxis(frame, x),
      uprightAxis(frame, y),
      barMarks(chart, step, frame, x, y),
    ]),
  };
}

/** How far the steps stand apart; 1 where there is one alone. */
function stepOf(chart: CountsOver): number {
  const at = chart.bars.map((bar) => bar.at);
  const gaps = at.slice(1).map((value, i) => value - (at[i] ?? value));
  const step = Math.min(...gaps.filter((gap) => gap > 0));
  return Number.isFinite(step) ? step : 1;
}

function barMarks(chart: CountsOver, step: number, frame: Frame, across: Axis, upright: Axis): Partial<Marks> {
  const x = (value: number): number => placeIn(frame, across.domain, value);
  const y = (value: number): number => heightIn(frame, upright.domain, value);
  const sides = (at: number, half: number) => ({ x: x(at - half * step), x2: x(at + half * step) });
  const chance = { fill: palette.chance, stroke: palette.chance, width: 0.6 };
  const bands = chart.bars.map((bar) => ({
    ...sides(bar.at, 0.5),
    ...{ y: y(Math.max(0, bar.low)), y2: y(bar.high), ...chance },
  }));
  const bars = chart.bars.map((bar) => ({
    ...sides(bar.at, 0.36),
    ...{ y: y(bar.count), y2: y(0), width: 0.8 },
    ...(bar.emphasis ? { fill: palette.ochre, stroke: palette.ink } : { fill: palette.blueTint, stroke: palette.blue }),
  }));
  const edges = chart.bars.flatMap((bar) =>
    [-0.5, 0.5].map((side) => ({ x: x(bar.at + side * step), y: y(bar.expected) })),
  );
  return { boxes: [...bands, ...bars], curves: [{ points: edges, stroke: palette.ink, width: 1.4 }] };
}
