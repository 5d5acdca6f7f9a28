import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import { isClear } from "../../results/verdict.js";
import type { Words } from "../words.js";
import { rowsOnPage } from "./page.js";
import {
  across,
  type Box,
  type Frame,
  heightIn,
  type Marks,
  type Picture,
  type Point,
  text,
  together,
} from "./picture.js";
import { seriesMarks } from "./small-series.js";
import { textWidth, wrapAtMost } from "./text-width.js";
import { theme } from "./theme.js";
import { roundRange, ticksBetween } from "./ticks.js";

type Tiles = Extract<Chart, { kind: "tiles" }>;
type Tile = Tiles["tiles"][number];
const { palette } = theme;

/** A grid wider than this, or higher than a page, goes on in another picture: names must stay readable, and a picture must fit a page. */
const mostColumns = 7;
const gap = 6;
const inset = 6;
const plotHeight = 34;
const widest = 150;
/** How the figures before the tiles are written. */
const figure = { align: "right", baseline: "middle", color: palette.quiet } as const;

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

/** A map turned round beforehand where the finished drawing is mirrored: its west stays at the left. */
function heldAsMap(chart: Tiles, columns: number, { direction }: Words): Tiles {
  if (chart.asMap !== true || direction === "ltr") return chart;
  return { ...chart, tiles: chart.tiles.map((tile) => ({ ...tile, column: columns - 1 - tile.column })) };
}

/** Places on a grid, in each the rounds of one estimate, all on one axis. */
export function tiles(given: Tiles, words: Words): Picture[] {
  const columns = Math.max(0, ...given.tiles.map((tile) => tile.column)) + 1;
  const chart = heldAsMap(given, columns, words);
  const rows = Math.max(0, ...chart.tiles.map((tile) => tile.row)) + 1;
  const common = commonOf(chart, Math.min(columns, mostColumns), words);
  const mostRows = rowsOnPage(common.height + gap);
  const pictures: Picture[] = [];
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
  const start = Math.max(...marks.map((mark) => textWidth(mark.text, 12))) + 8;
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

function pictureOf(chart: Tiles, part: readonly Tile[], common: Common, words: Words): Picture {
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
  const edges = [...placed].sort((a, b) => Number(isClear(a.tile)) - Number(isClear(b.tile)));
  return {
    width: theme.width - 12,
    height,
    marks: together([
      { texts: [text(0, 10, words.text(chart.y.label), { color: palette.quiet })] },
      { boxes: edges.map(({ tile, x, y }) => boxOf(x, y, common, isClear(tile))) },
      axisMarks(placed, common),
      seriesMarks(series, common.values, 22),
      captions(placed, chart, common, words),
      { texts: headings.map((heading) => text(heading.x, heading.y, heading.text, { size: 13, weight: 600 })) },
    ]),
  };
}

const boxOf = (x: number, y: number, { width, height }: Common, clear: boolean): Box => ({
  ...{ x, x2: x + width, y, y2: y + height, fill: palette.paper },
  ...(clear ? { stroke: palette.ink, width: 1.4 } : { stroke: palette.line, width: 1 }),
});

interface Heading {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

/** Where each row of tiles begins, and the names of the groups over the rows with which they begin. */
function rowsOf(
  part: readonly Tile[],
  common: Common,
  top: number,
): { readonly headings: readonly Heading[]; readonly tops: readonly number[]; readonly height: number } {
  const groups = new Map(part.map((tile) => [tile.row, tile.group]));
  const headings: Heading[] = [];
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
function axisMarks(placed: readonly PlacedTile[], common: Common): Partial<Marks> {
  const outer = placed.filter(({ tile, x }) => placed.every((other) => other.tile.row !== tile.row || other.x >= x));
  return {
    rules: placed.flatMap(({ frame }) =>
      common.marks.map(({ at }) => {
        const wide = { ...frame, x: frame.x - 6, width: frame.width + 12 };
        return across(wide, heightIn(frame, common.values, at), palette.line, 0.7);
      }),
    ),
    texts: outer.flatMap(({ frame, x }) =>
      common.marks.map((mark) => text(x - 4, heightIn(frame, common.values, mark.at), mark.text, figure)),
    ),
  };
}

/** Name, last value, and a triangle with a word for a clear change. */
function captions(placed: readonly PlacedTile[], chart: Tiles, common: Common, words: Words): Partial<Marks> {
  const line = (y: number): number => y + inset + common.nameLines * 14 + 12;
  const names = placed.map(({ tile, x, y }) => {
    const lines = wrapAtMost(tile.label, common.width - 2 * inset, 12, 600, 2);
    return text(x + inset, y + inset + 11, lines.join("\n"), { weight: 600 });
  });
  const values = placed.map(({ tile, x, y }) => text(x + inset, line(y), lastValue(tile, chart, words)));
  const changes = placed
    .filter(({ tile }) => wordOf(tile, words) !== "")
    .map(({ tile, x, y }) => {
      const beside = common.wordBelow ? 0 : textWidth(lastValue(tile, chart, words), 12) + 10;
      return { tile, x: x + inset + beside, y: line(y) + (common.wordBelow ? 15 : 0) };
    });
  const triangles = changes.filter(({ tile }) => isClear(tile)).map(({ tile, x, y }) => triangle(tile, x + 5, y - 4));
  const verdicts = changes.map(({ tile, x, y }) => text(x + (isClear(tile) ? 13 : 0), y, wordOf(tile, words)));
  return { points: triangles, texts: [...names, ...values, ...verdicts] };
}

const triangle = (tile: Tile, x: number, y: number): Point => ({
  ...{ x, y, shape: tile.verdict === "rise" ? "triangle-up" : "triangle-down", size: 34 },
  ...{ fill: palette.ink, stroke: palette.ink, width: 1.5 },
});
