import { message } from "../../results/message.js";
import type { Chart, Unit } from "../../results/schema.js";
import { emDash } from "../numbers.js";
import type { Words } from "../words.js";
import { axisFor } from "./axes.js";
import { type DotRow, dotRows } from "./dot-rows.js";
import type { Picture } from "./picture.js";
import { theme } from "./theme.js";
import { roundRange } from "./ticks.js";

type Intervals = Extract<Chart, { kind: "intervals" }>;

/** More rows than this go on in another picture: one picture must fit a page. */
const rowsAPicture = 40;

/** The rows in pieces that fit a page, broken between groups where that is possible. */
function piecesOf(rows: Intervals["rows"], words: Words): Intervals["rows"][] {
  const groups: Intervals["rows"][] = [];
  for (const row of rows) {
    const last = groups.at(-1);
    const name = (each: Intervals["rows"][number] | undefined): string | null =>
      each?.group === undefined ? null : words.text(each.group);
    if (last !== undefined && last.length < rowsAPicture && name(last[0]) === name(row)) last.push(row);
    else groups.push([row]);
  }
  const pieces: Intervals["rows"][] = [];
  for (const group of groups) {
    const last = pieces.at(-1);
    if (last !== undefined && last.length + group.length <= rowsAPicture) last.push(...group);
    else pieces.push([...group]);
  }
  return pieces;
}

/** A value with its interval per group, on one axis, with marked values and a band. */
export function intervals(chart: Intervals, words: Words): Picture[] {
  const alike = chart.rows.map((row, i) => rowOf(row, chart.rows[i - 1], chart.x.unit, words));
  return piecesOf(chart.rows, words).map((rows) => pictureOf(chart, rows, alike, words));
}

function pictureOf(chart: Intervals, rows: Intervals["rows"], alike: readonly DotRow[], words: Words): Picture {
  const { unit } = chart.x;
  const values = chart.rows.flatMap((row) => [row.value, row.low, row.high]).filter((value) => value !== null);
  const marked = [
    ...chart.lines.map((line) => line.at),
    ...(chart.band === undefined ? [] : [chart.band.low, chart.band.high]),
  ];
  const zero = unit === "share" || unit === "count";
  const domain = roundRange([...values, ...marked], unit, zero);
  const { band } = chart;
  return dotRows({
    rows: rows.map((row, i) => rowOf(row, rows[i - 1], unit, words)),
    alike,
    bands:
      band === undefined
        ? []
        : [
            {
              from: band.low,
              to: band.high,
              label: words.text(band.label),
              fill: theme.palette.chance,
            },
          ],
    lines: chart.lines.map((line) => ({
      at: line.at,
      label: words.text(line.label),
    })),
    columns: [
      words.text(message("chart.column.value")),
      ...(chart.counted === null ? [] : [words.text(chart.counted ?? message("chart.column.children"))]),
    ],
    axis: axisFor(domain, 5, unit, words.text(chart.x.label), words),
    pitch: chart.rows.length > 20 ? 15.5 : chart.rows.length > 14 ? 17 : 20,
  });
}

function rowOf(
  row: Intervals["rows"][number],
  before: Intervals["rows"][number] | undefined,
  unit: Unit,
  words: Words,
): DotRow {
  const group = row.group === undefined ? null : words.text(row.group);
  const last = before?.group === undefined ? null : words.text(before.group);
  return {
    heading: group === last ? null : group,
    label: words.text(row.label),
    value: row.value,
    low: row.low,
    high: row.high,
    facts: [valueText(row, unit, words), words.number(row.n, "count")],
    reading: row.reading,
    hollow: row.marked === true,
    strong: row.reading === "doubt" || row.moves === true,
  };
}

/** 'value (low to high)', or an em dash. */
export function valueText(
  row: {
    readonly value: number | null;
    readonly low: number | null;
    readonly high: number | null;
  },
  unit: Unit,
  words: Words,
): string {
  if (row.value === null) return emDash;
  const value = words.number(row.value, unit);
  if (row.low === null || row.high === null) return value;
  return words.text(
    message("chart.value-interval", {
      value,
      interval: words.interval({ low: row.low, high: row.high }, unit),
    }),
  );
}
