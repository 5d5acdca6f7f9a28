import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import { isClear } from "../../results/verdict.js";
import type { Words } from "../words.js";
import {
  boxes,
  type Frame,
  heightIn,
  type PixelText,
  pixelPicture,
  points,
  rowsOnPage,
  rules,
  seriesMarks,
  texts,
} from "./pixels.js";
import { textWidth, wrapAtMost } from "./text-width.js";
import { type Spec, theme } from "./theme.js";
import { roundRange, ticksBetween } from "./ticks.js";

type Tiles = Extract<Chart, { kind: "tiles" }>;
type Tile = Tiles["tiles"][number];
const { palette } = theme;

/** A grid wider than this, or higher than a page, goes on in another picture: names must stay readable, and a picture must fit a page. */
const mostColumns = 7;
const gap = 6;
const inset = 6;
const plotHeight = 46;
const widest = 150;

/** What all tiles of the chart have in common. */
interface Common {
  readonly values: readonly [number, number];
  readonly marks: readonly { readonly at: number; readonly text: string }[];
  readonly start: number;
  readonly width: number;
  readonly height: number;
  readonly nameLines: number;
  /** True where the word of a change has no room beside the value. */
  readonly wordBelow: boolean;
  readonly rounds: readonly string[];
}

/** Places on a grid, in each the rounds of one estimate, all on one axis. */
export function tiles(chart: Tiles, words: Words): Spec[] {
  const columns = Math.max(0, ...chart.tiles.map((tile) => tile.column)) + 1;
  const rows = Math.max(0, ...chart.tiles.map((tile) => tile.row)) + 1;
  const common = commonOf(chart, Math.min(columns, mostColumns), words);
  const mostRows = rowsOnPage(common.height + gap);
  const pictures: Spec[] = [];
  for (let row = 0; row < rows; row += mostRows)
    for (let column = 0; column < columns; column += mostColumns) {
      const part = chart.tiles
        .filter((tile) => Math.floor(tile.row / mostRows) * mostRows === row)
        .filter((tile) => Math.floor(tile.column / mostColumns) * mostColumns === column)
        .map((tile) => ({ ...tile, row: tile.row - row, column: tile.column - column }));
      if (part.length > 0) pictures.push(pictureOf(chart, part, common, words));
    }
  return pictures;
}

/** Every round's name in one order: a name that some places lack stands after the name it follows elsewhere. */
export function roundsInOrder(chart: Tiles): string[] {
  const order: string[] = [];
  for (const tile of chart.tiles) {
    let after = -1;
    for (const { label } of tile.points) {
      const known = order.indexOf(label);
      if (known === -1) order.splice(after + 1, 0, label);
      after = order.indexOf(label);
    }
  }
  return order;
}

function commonOf(chart: Tiles, columns: number, words: Words): Common {
  const { unit } = chart.y;
  const all = chart.tiles.flatMap((tile) => tile.points);
  const values = roundRange(
    all.flatMap((point) => [point.value, point.low ?? point.value, point.high ?? point.value]),
    unit,
    unit === "share" || unit === "count",
  );
  const ticks = ticksBetween(values[0], values[1], 2, unit);
  const marks = ticks.values.map((at) => ({ at, text: words.tick(at, unit, ticks.decimals) }));
  const start = Math.max(...marks.map((mark) => textWidth(mark.text, 11))) + 8;
  const width = Math.min(widest, Math.floor((theme.width - 12 - start - (columns - 1) * gap) / columns));
  const inner = width - 2 * inset;
  const nameLines = Math.max(1, ...chart.tiles.map((tile) => wrapAtMost(tile.label, inner, 12, 600, 2).length));
  const wordBelow = chart.tiles.some((tile) => {
    const word = wordOf(tile, words);
    return word !== "" && textWidth(lastValue(tile, chart, words), 12) + 24 + textWidth(word, 12) > inner;
  });
  const height = inset + nameLines * 14 + 16 + (wordBelow ? 15 : 0) + 6 + plotHeight + inset;
  return { values, marks, start, width, height, nameLines, wordBelow, rounds: roundsInOrder(chart) };
}

const lastValue = (tile: Tile, chart: Tiles, words: Words): string =>
  words.number(tile.points.at(-1)?.value ?? null, chart.y.unit);

/** The word of a clear change, or that there is none to be had; nothing where no change is clear. */
function wordOf(tile: Tile, words: Words): string {
  return tile.verdict === null || tile.verdict === "no-clear-change"
    ? ""
    : words.text(message(`chart.verdict.${tile.verdict}`));
}

function pictureOf(chart: Tiles, part: readonly Tile[], common: Common, words: Words): Spec {
  const top = 20;
  const { headings, tops, height } = rowsOf(part, common, top);
  const placed = part.map((tile) => {
    const x = common.start + tile.column * (common.width + gap);
    const y = tops[tile.row] ?? top;
    const frame: Frame = {
      x: x + inset + 6,
      y: y + common.height - inset - plotHeight,
      width: common.width - 2 * inset - 12,
      height: plotHeight,
    };
    return { tile, x, y, frame };
  });
  const step = (frame: Frame, label: string): number =>
    common.rounds.length === 1
      ? frame.x + frame.width / 2
      : frame.x + (frame.width * common.rounds.indexOf(label)) / (common.rounds.length - 1);
  const series = placed.map(({ tile, frame }) => ({
    frame,
    strong: isClear(tile),
    points: tile.points.map((point) => ({ ...point, x: step(frame, point.label), hollow: false })),
  }));
  const edges = (clear: boolean) =>
    placed
      .filter(({ tile }) => isClear(tile) === clear)
      .map(({ x, y }) => ({
        x,
        y,
        width: common.width,
        height: common.height,
        fill: palette.paper,
        edge: clear ? palette.ink : palette.line,
      }));
  return pixelPicture(theme.width - 12, height, [
    ...texts([{ x: 0, y: 10, text: words.text(chart.y.label) }], { color: palette.quiet }),
    ...boxes(edges(false), 1),
    ...boxes(edges(true), 1.4),
    ...axisMarks(placed, common),
    ...seriesMarks(series, common.values, 22),
    ...captions(placed, chart, common, words),
    ...texts(headings, { fontSize: 13, fontWeight: 600 }),
  ]);
}

/** Where each row of tiles begins, and the names of the groups over the rows with which they begin. */
function rowsOf(
  part: readonly Tile[],
  common: Common,
  top: number,
): { readonly headings: readonly PixelText[]; readonly tops: readonly number[]; readonly height: number } {
  const groups = new Map(part.map((tile) => [tile.row, tile.group]));
  const headings: PixelText[] = [];
  const tops: number[] = [];
  let y = top;
  for (let row = 0; row <= Math.max(...groups.keys()); row++) {
    const group = groups.get(row);
    if (group !== undefined && (row === 0 || group !== groups.get(row - 1))) {
      y += row === 0 ? 0 : 6;
      headings.push({ x: common.start, y: y + 14, text: group });
      y += 22;
    }
    tops.push(y);
    y += common.height + gap;
  }
  return { headings, tops, height: y };
}

interface PlacedTile {
  readonly tile: Tile;
  readonly x: number;
  readonly y: number;
  readonly frame: Frame;
}

/** Light lines across every tile at round values; their figures before the first tile of each row. */
function axisMarks(placed: readonly PlacedTile[], common: Common): Spec[] {
  const across = placed.flatMap(({ frame }) =>
    common.marks.map(({ at }) => {
      const y = heightIn(frame, common.values, at);
      return { x: frame.x - 6, x2: frame.x + frame.width + 6, y, y2: y, stroke: palette.line };
    }),
  );
  const outer = placed.filter(({ tile, x }) => placed.every((other) => other.tile.row !== tile.row || other.x >= x));
  const figures = outer.flatMap(({ frame, x }) =>
    common.marks.map(({ at, text }) => ({ x: x - 4, y: heightIn(frame, common.values, at), text })),
  );
  return [
    ...rules(across, 0.7),
    ...texts(figures, { align: "right", baseline: "middle", fontSize: 11, color: palette.quiet }),
  ];
}

/** Name, last value, and a triangle with a word for a clear change. */
function captions(placed: readonly PlacedTile[], chart: Tiles, common: Common, words: Words): Spec[] {
  const names = placed.map(({ tile, x, y }) => ({
    x: x + inset,
    y: y + inset + 11,
    text: wrapAtMost(tile.label, common.width - 2 * inset, 12, 600, 2).join("\n"),
  }));
  const line = (y: number): number => y + inset + common.nameLines * 14 + 12;
  const values = placed.map(({ tile, x, y }) => ({ x: x + inset, y: line(y), text: lastValue(tile, chart, words) }));
  const wordsAt = placed
    .filter(({ tile }) => wordOf(tile, words) !== "")
    .map(({ tile, x, y }) => {
      const beside = common.wordBelow ? 0 : textWidth(lastValue(tile, chart, words), 12) + 10;
      return {
        verdict: tile.verdict,
        x: x + inset + beside + (isClear(tile) ? 13 : 0),
        mark: x + inset + beside + 5,
        y: line(y) + (common.wordBelow ? 15 : 0),
        text: wordOf(tile, words),
      };
    });
  const triangle = (verdict: "rise" | "fall") =>
    wordsAt
      .filter((word) => word.verdict === verdict)
      .map((word) => ({ x: word.mark, y: word.y - 4, fill: palette.ink, edge: palette.ink }));
  return [
    ...texts(names, { fontWeight: 600 }),
    ...texts(values),
    ...texts(wordsAt, {}),
    ...points(triangle("rise"), "triangle-up", 34),
    ...points(triangle("fall"), "triangle-down", 34),
  ];
}
