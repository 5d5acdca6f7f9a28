import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import { isClear } from "../../results/verdict.js";
import type { Words } from "../words.js";
import { axisOf, roundRange } from "./axis.js";
import { atStart, startAnchor } from "./direction.js";
import type { Figure, Row, Spec } from "./figure.js";
import { type Entry, entry, looks, withLegend } from "./legend.js";
import { changeEntries } from "./rounds.js";
import { textWidth, wrapAtMost } from "./text-width.js";
import { theme } from "./theme.js";

type Tiles = Extract<Chart, { kind: "tiles" }>;
type Tile = Tiles["tiles"][number];
const { palette } = theme;

/** A grid wider or higher than this goes on in another picture: names must stay readable, and a picture must fit a page. */
const mostColumns = 7;
const mostRows = 7;
const gap = 6;
const inset = 6;
const plotHeight = 34;
const widest = 150;
const beside = 44;

/** What all tiles of the chart have in common. */
interface Common {
  readonly width: number;
  readonly height: number;
  readonly nameLines: number;
  /** True where the word of a change has no room beside the value. */
  readonly wordBelow: boolean;
  readonly values: readonly [number, number];
  readonly rounds: readonly string[];
}

/** Places on a grid, in each the rounds of one estimate, all on one axis. */
export function tiles(chart: Tiles, words: Words): Figure[] {
  const columns = Math.max(0, ...chart.tiles.map((tile) => tile.column)) + 1;
  // Columns follow the reading; a map keeps its west at the left.
  const mirrored = words.direction === "rtl" && chart.asMap !== true;
  const common = commonOf(chart, Math.min(columns, mostColumns), words);
  const pictures = new Map<string, Tile[]>();
  for (const tile of chart.tiles) {
    const part = `${String(Math.floor(tile.row / mostRows)).padStart(4, "0")} ${Math.floor(tile.column / mostColumns)}`;
    const [row, column] = [tile.row % mostRows, tile.column % mostColumns];
    const placed = { ...tile, row, column: mirrored ? mostColumns - 1 - column : column };
    pictures.set(part, [...(pictures.get(part) ?? []), placed]);
  }
  const parts = [...pictures].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, part]) => part);
  return parts.map((part, i) => figureOf(chart, part, common, i === parts.length - 1, words));
}

/** Every round's name in one order: a name that some places lack stands after the name it follows elsewhere. */
function roundsInOrder(chart: Tiles): string[] {
  const order: string[] = [];
  for (const tile of chart.tiles) {
    let after = -1;
    for (const { label } of tile.points) {
      if (!order.includes(label)) order.splice(after + 1, 0, label);
      after = order.indexOf(label);
    }
  }
  return order;
}

const lastValue = (tile: Tile, chart: Tiles, words: Words): string =>
  words.number(tile.points.at(-1)?.value ?? null, chart.y.unit);

/** The word of a clear change, or that there is none to be had; nothing where no change is clear. */
const wordOf = (tile: Tile, words: Words): string =>
  tile.verdict === null || tile.verdict === "no-clear-change"
    ? ""
    : words.text(message(`chart.verdict.${tile.verdict}`));

function commonOf(chart: Tiles, columns: number, words: Words): Common {
  const width = Math.min(widest, Math.floor((theme.width - 12 - beside - (columns - 1) * gap) / columns));
  const inner = width - 2 * inset;
  const nameLines = Math.max(1, ...chart.tiles.map((tile) => wrapAtMost(tile.label, inner, 12, 600, 2).length));
  const wordBelow = chart.tiles.some((tile) => {
    const word = wordOf(tile, words);
    return word !== "" && textWidth(lastValue(tile, chart, words), 12) + 24 + textWidth(word, 12) > inner;
  });
  const values = chart.tiles.flatMap((tile) => tile.points.flatMap((point) => [point.value, point.low, point.high]));
  const zero = chart.y.unit === "share" || chart.y.unit === "count";
  return {
    ...{ width, nameLines, wordBelow, values: roundRange(values, zero), rounds: roundsInOrder(chart) },
    height: inset + nameLines * 14 + 16 + (wordBelow ? 15 : 0) + 6 + plotHeight + inset,
  };
}

/** A row of the data for each round of each tile, for what is written in it, and for the lines at the ends of the axis. */
function rowsOf(tile: Tile, chart: Tiles, common: Common, words: Words): Row[] {
  const { row, column } = tile;
  const place = { row, column, clear: isClear(tile) };
  const word = wordOf(tile, words);
  return [
    ...common.values.map((tick) => ({ ...place, tick })),
    ...tile.points.map((point) => ({
      ...{ ...place, round: common.rounds.indexOf(point.label), value: point.value },
      ...{ low: point.low ?? point.value, high: point.high ?? point.value },
    })),
    {
      ...place,
      name: wrapAtMost(tile.label, common.width - 2 * inset, 12, 600, 2).join("\n"),
      last: lastValue(tile, chart, words),
      ...(word === "" ? {} : { word, besideLast: textWidth(lastValue(tile, chart, words), 12) + 10 }),
      ...(isClear(tile) ? { triangle: tile.verdict === "rise" ? "triangle-up" : "triangle-down" } : {}),
    },
  ];
}

/** Rows of tiles that share a group stand under its name, on a grid of their own as wide as all of them. */
function figureOf(chart: Tiles, part: readonly Tile[], common: Common, isLast: boolean, words: Words): Figure {
  const groups = new Map<string, Tile[]>();
  for (const tile of [...part].sort((a, b) => a.row - b.row)) {
    const name = tile.group ?? "";
    groups.set(name, [...(groups.get(name) ?? []), tile]);
  }
  const columns = [...new Set(part.map((tile) => tile.column))];
  const entries = isLast ? legendOf(chart, common, words) : [];
  const datasets = Object.fromEntries(
    [...groups.values()].map((own, i) => [
      `group-${i}`,
      [
        // Every column is there in every group, so that they stand below one another.
        ...columns.map((column) => ({ row: own[0]?.row, column })),
        ...own.flatMap((tile) => rowsOf(tile, chart, common, words)),
      ],
    ]),
  );
  const views = [...groups.keys()].map((name, i) => groupView(name, i, chart, common, words));
  return { spec: withLegend({ vconcat: views, spacing: 14 }, entries, words), datasets };
}

function groupView(name: string, group: number, chart: Tiles, common: Common, words: Words): Spec {
  const anchor = startAnchor(words);
  const header = { labels: false, title: null };
  return {
    ...(name === "" ? {} : { title: { text: name, fontSize: 13, anchor, offset: 4 } }),
    data: { name: `group-${group}` },
    facet: {
      row: { field: "row", type: "ordinal", header },
      column: { field: "column", type: "ordinal", header },
    },
    spacing: gap,
    spec: { width: common.width, height: common.height, layer: layersOf(chart, common, words) },
  };
}

function layersOf(chart: Tiles, common: Common, words: Words): Spec[] {
  const { width, height, nameLines } = common;
  const { align, x: start } = atStart(words, width, inset);
  const away = words.direction === "rtl" ? -1 : 1;
  const line = inset + nameLines * 14 + 12;
  const below = common.wordBelow ? 15 : 0;
  const rounds = common.rounds.map((_, i) => i);
  const x = {
    ...{ field: "round", type: "ordinal", axis: null },
    scale: {
      type: "point",
      domain: rounds,
      range: [2 * inset, width - 2 * inset],
      padding: rounds.length === 1 ? 0.5 : 0,
    },
  };
  const y = {
    type: "quantitative",
    scale: { domain: common.values, nice: false, range: [height - inset, height - inset - plotHeight] },
    axis: { title: null, grid: false, ...axisOf(chart.y.unit, 2), values: common.values },
  };
  const colour = { expr: `datum.clear ? '${palette.blue}' : '${palette.quiet}'` };
  const isTile = { transform: [{ filter: "isValid(datum.name)" }] };
  const hasWord = { transform: [{ filter: "isValid(datum.word)" }] };
  const isRound = { transform: [{ filter: "isValid(datum.round)" }] };
  const wordStart = common.wordBelow ? inset : `${inset} + datum.besideLast`;
  const wordShift = `${away} * (${wordStart} - ${inset})`;
  return [
    {
      ...isTile,
      mark: {
        ...{
          type: "rect",
          fill: palette.paper,
          stroke: { expr: `datum.clear ? '${palette.ink}' : '${palette.line}'` },
        },
        strokeWidth: { expr: "datum.clear ? 1.4 : 1" },
      },
      encoding: { x: { value: 0 }, x2: { value: width }, y: { value: 0 }, y2: { value: height } },
    },
    {
      transform: [{ filter: "isValid(datum.tick)" }],
      mark: { type: "rule", stroke: palette.line, strokeWidth: 0.7 },
      encoding: { x: { value: inset }, x2: { value: width - inset }, y: { ...y, field: "tick" } },
    },
    {
      ...isRound,
      mark: { type: "line", strokeWidth: 0.9 },
      encoding: {
        ...{ x, y: { ...y, field: "value" } },
        stroke: { condition: { test: "datum.clear", value: palette.blue }, value: palette.quiet },
      },
    },
    {
      ...isRound,
      mark: { type: "rule", strokeWidth: 1.8, stroke: colour },
      encoding: { x, y: { ...y, field: "low" }, y2: { field: "high" } },
    },
    {
      ...isRound,
      mark: { type: "point", shape: "circle", size: 22, opacity: 1, strokeWidth: 1.5, fill: colour, stroke: colour },
      encoding: { x, y: { ...y, field: "value" } },
    },
    {
      ...isTile,
      mark: { type: "text", style: "name", align },
      encoding: { x: start, y: { value: inset + 11 }, text: { field: "name" } },
    },
    { ...isTile, mark: { type: "text", align }, encoding: { x: start, y: { value: line }, text: { field: "last" } } },
    {
      transform: [{ filter: "isValid(datum.triangle)" }],
      mark: {
        ...{ type: "point", size: 34, opacity: 1, fill: palette.ink, stroke: palette.ink },
        ...{ shape: { expr: "datum.triangle" }, xOffset: { expr: `${wordShift} + ${5 * away}` } },
      },
      encoding: { x: start, y: { value: line + below - 4 } },
    },
    {
      ...hasWord,
      mark: { type: "text", align, dx: { expr: `${wordShift} + (isValid(datum.triangle) ? ${13 * away} : 0)` } },
      encoding: { x: start, y: { value: line + below }, text: { field: "word" } },
    },
  ];
}

function legendOf({ tiles: all }: Tiles, { rounds }: Common, words: Words): Entry[] {
  const has = (verdict: string): boolean => all.some((tile) => tile.verdict === verdict);
  return [
    ...(has("rise") ? [entry(looks.rise, "tile-rise", words)] : []),
    ...(has("fall") ? [entry(looks.fall, "tile-fall", words)] : []),
    ...changeEntries([has("rise") || has("fall"), false], words),
    ...(rounds.length > 1
      ? [{ ...looks.earlier, label: words.text(message("key.tile-rounds", { rounds, count: rounds.length })) }]
      : []),
  ];
}
