import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { type CalendarTick, calendarTicks, dayNumber } from "./calendar.js";
import { rowsOnPage } from "./page.js";
import {
  across,
  type Frame,
  heightIn,
  type Marks,
  type Picture,
  type Text,
  text,
  together,
  upright,
} from "./picture.js";
import { type SmallPoint, seriesMarks } from "./small-series.js";
import { cutTo, textWidth, wrapAtMost } from "./text-width.js";
import { theme } from "./theme.js";
import { roundRange, ticksBetween } from "./ticks.js";

type Rounds = Extract<Chart, { kind: "rounds" }>;
type Panel = Rounds["panels"][number];
const { palette } = theme;

/** Frames by how many places there are. */
const shapes = [
  { upTo: 1, columns: 1, height: 120 },
  { upTo: 4, columns: 2, height: 120 },
  { upTo: 12, columns: 3, height: 86 },
  { upTo: Number.POSITIVE_INFINITY, columns: 4, height: 64 },
] as const;
const between = 20;

/** What all panels of the chart have in common. */
interface Common {
  readonly days: readonly [number, number];
  readonly values: readonly [number, number];
  readonly width: number;
  readonly height: number;
  readonly columns: number;
  /** Room at the start for the figures of the upright axis. */
  readonly start: number;
  readonly titleHeight: number;
  readonly marks: { readonly at: number; readonly text: string }[];
  readonly ticks: readonly CalendarTick[];
}

/** Estimates over the calendar, one small picture a place, all on the same axes. */
export function rounds(chart: Rounds, words: Words): Picture[] {
  const shape = shapes.find((each) => chart.panels.length <= each.upTo) ?? shapes[3];
  const common = commonOf(chart, shape.columns, shape.height, words);
  const most = shape.columns * rowsOnPage(rowHeightOf(common));
  const pictures: Picture[] = [];
  for (let first = 0; first < chart.panels.length; first += most)
    pictures.push(pictureOf(chart, chart.panels.slice(first, first + most), common, words));
  return pictures;
}

function commonOf(chart: Rounds, columns: number, height: number, words: Words): Common {
  const all = chart.panels.flatMap((panel) => panel.points);
  const { unit } = chart.y;
  const values = roundRange(
    all.flatMap((point) => [point.value, point.low ?? point.value, point.high ?? point.value]),
    unit,
    unit === "share" || unit === "count",
  );
  const ticks = ticksBetween(values[0], values[1], height > 100 ? 5 : 3, unit);
  const marks = ticks.values.map((at) => ({ at, text: words.tick(at, unit, ticks.decimals) }));
  const start = Math.max(...marks.map((mark) => textWidth(mark.text, 12))) + 10;
  const width = Math.floor((theme.width - 12 - start - (columns - 1) * between) / columns);
  const days = all.map((point) => dayNumber(point.day)).filter((day) => !Number.isNaN(day));
  const span = days.length === 0 ? 365 : Math.max(Math.max(...days) - Math.min(...days), 90);
  const room = Math.max(span * 0.12, (span * 26) / width);
  const low = days.length === 0 ? 0 : Math.min(...days);
  const range: readonly [number, number] = [low - room, low + span + room];
  const lines = Math.max(1, ...chart.panels.map((panel) => titleOf(panel, width, words).length));
  const highest = Math.max(values[0], ...all.map((point) => point.high ?? point.value));
  const free = (height * (values[1] - highest)) / (values[1] - values[0]);
  const labels = columns <= 2 ? 34 : 20;
  return {
    days: range,
    values,
    width,
    height,
    columns,
    start,
    titleHeight: lines * 15 + (chart.panels.some((panel) => panel.emphasis) ? 15 : 0) + 4 + Math.max(0, labels - free),
    marks,
    ticks: calendarTicks(range[0], range[1], width, words),
  };
}

const rowHeightOf = (common: Common): number => common.titleHeight + common.height + 22;

const titleOf = (panel: Panel, width: number, words: Words): string[] =>
  wrapAtMost(words.text(panel.label), width, 13, 600, 2);

function pictureOf(chart: Rounds, panels: readonly Panel[], common: Common, words: Words): Picture {
  const top = 22;
  const rowHeight = rowHeightOf(common);
  const rows = Math.ceil(panels.length / common.columns);
  const frames = panels.map((_, i): Frame => {
    const row = Math.floor(i / common.columns);
    return {
      x: common.start + (i % common.columns) * (common.width + between),
      y: top + row * rowHeight + common.titleHeight,
      width: common.width,
      height: common.height,
    };
  });
  const place = (frame: Frame, day: number): number =>
    frame.x + (frame.width * (day - common.days[0])) / (common.days[1] - common.days[0]);
  const series = panels.map((panel, i) => {
    const frame = frames[i] as Frame;
    const own = panel.points
      .filter((point) => !Number.isNaN(dayNumber(point.day)))
      .map((point) => ({ ...point, x: place(frame, dayNumber(point.day)), hollow: point.marked === true }))
      .sort((a, b) => a.x - b.x);
    return { frame, points: own, strong: panel.emphasis };
  });
  const labels = series.flatMap((each) => valueLabels(each.frame, each.points, chart, common, words));
  return {
    width: theme.width - 12,
    height: top + rows * rowHeight + 18,
    marks: together([
      axisMarks(frames, place, common),
      titles(panels, frames, common, words),
      { texts: [text(0, 10, words.text(chart.y.label), { color: palette.quiet })] },
      seriesMarks(series, common.values, common.columns > 2 ? 30 : 44),
      { texts: [...labels.map((label) => ({ ...label, halo: palette.paper })), ...labels] },
    ]),
  };
}

/** Light lines across at round values, the months below the lowest frame of each column. */
function axisMarks(
  frames: readonly Frame[],
  place: (frame: Frame, day: number) => number,
  common: Common,
): Partial<Marks> {
  const ends = (frame: Frame): number => frame.y + frame.height;
  const outer = frames.filter((_, i) => i % common.columns === 0);
  const lowest = frames.filter((_, i) => i >= frames.length - common.columns);
  const figures = outer.flatMap((frame) =>
    common.marks.map((mark) =>
      text(frame.x - 6, heightIn(frame, common.values, mark.at), mark.text, { align: "right", baseline: "middle" }),
    ),
  );
  const months = lowest.flatMap((frame) =>
    common.ticks.map(({ at, lines }) =>
      text(place(frame, at), ends(frame) + 6, lines.join("\n"), { align: "center", baseline: "top" }),
    ),
  );
  return {
    grid: frames.flatMap((frame) =>
      common.marks.map(({ at }) => {
        const stroke = at === common.values[0] ? palette.quiet : palette.line;
        return across(frame, heightIn(frame, common.values, at), stroke, 0.8);
      }),
    ),
    rules: frames.flatMap((frame) =>
      common.ticks.map(({ at }) => upright(place(frame, at), ends(frame), ends(frame) + 4, palette.quiet, 0.8)),
    ),
    texts: [...figures, ...months],
  };
}

/** Names of the places, and in words which changed clearly. */
function titles(panels: readonly Panel[], frames: readonly Frame[], common: Common, words: Words): Partial<Marks> {
  const placed = panels.map((panel, i) => {
    const { x, y } = frames[i] as Frame;
    return { strong: panel.emphasis, lines: titleOf(panel, common.width, words), x, y: y - common.titleHeight + 12 };
  });
  const names = placed.map(({ strong, lines, x, y }) =>
    text(x, y, lines.join("\n"), { size: 13, lineHeight: 15, weight: strong ? 600 : 400 }),
  );
  const clear = cutTo(words.text(message("chart.clear-change")), common.width, 12);
  const changes = placed
    .filter(({ strong }) => strong)
    .map(({ lines, x, y }) => text(x, y + lines.length * 15, clear, { color: palette.blue }));
  return { texts: [...names, ...changes] };
}

/** The last value always, the earlier ones from the first on where they have room; with the round's name in large frames. */
function valueLabels(
  frame: Frame,
  points: readonly (SmallPoint & { readonly label: string })[],
  chart: Rounds,
  common: Common,
  words: Words,
): Text[] {
  const made = points.map((point) => {
    const value = words.number(point.value, chart.y.unit);
    const name = common.columns <= 2 ? cutTo(point.label, 90, 12) : "";
    const width = Math.max(textWidth(value, 12), textWidth(name, 12));
    const y = heightIn(frame, common.values, point.high ?? point.value) - 4;
    return {
      x: point.x,
      y,
      label: name === "" ? value : `${name}\n${value}`,
      half: width / 2 + 3,
    };
  });
  const last = made.at(-1);
  if (last === undefined) return [];
  const kept = [last];
  for (const label of made.slice(0, -1)) {
    if (kept.every((other) => Math.abs(other.x - label.x) >= other.half + label.half)) kept.push(label);
  }
  return kept.map(({ x, y, label, half }) => {
    const inside = Math.min(Math.max(x, frame.x + half - 6), frame.x + frame.width - half + 10);
    return text(inside, y, label, { align: "center", baseline: "bottom" });
  });
}
