import { message } from "../../results/message.js";
import type { Chart, Unit } from "../../results/schema.js";
import type { Words } from "../words.js";
import { axisOf, roundRange } from "./axis.js";
import { type DotRow, dotRows } from "./dot-rows.js";
import type { Figure } from "./figure.js";
import { type Entry, entry, looks, readingEntries } from "./legend.js";
import { theme } from "./theme.js";

type Intervals = Extract<Chart, { kind: "intervals" }>;
type Row = Intervals["rows"][number];

/** More rows than this go on in another picture: one picture must fit a page. */
const rowsAPicture = 40;

/** The rows in pieces that fit a page, broken between groups where that is possible. */
function piecesOf(rows: readonly Row[], words: Words): Row[][] {
  const groups: Row[][] = [];
  const name = (each: Row | undefined): string | null => (each?.group === undefined ? null : words.text(each.group));
  for (const row of rows) {
    const last = groups.at(-1);
    if (last !== undefined && last.length < rowsAPicture && name(last[0]) === name(row)) last.push(row);
    else groups.push([row]);
  }
  const pieces: Row[][] = [];
  for (const group of groups) {
    const last = pieces.at(-1);
    if (last !== undefined && last.length + group.length <= rowsAPicture) last.push(...group);
    else pieces.push([...group]);
  }
  return pieces;
}

/** A value with its interval per group, on one axis, with marked values, a band, and a bracket of other surveys. */
export function intervals(chart: Intervals, words: Words): Figure[] {
  const { unit } = chart.x;
  const alike = dotsOf(chart.rows, unit, words);
  const { band, bracket } = chart;
  const marked = [
    ...chart.lines.map((line) => line.at),
    ...[band, bracket].flatMap((one) => (one === undefined ? [] : [one.low, one.high])),
  ];
  const values = chart.rows.flatMap((row) => [row.value, row.low, row.high]);
  const domain = roundRange([...values, ...marked], unit === "share" || unit === "count");
  return piecesOf(chart.rows, words).map((rows) =>
    dotRows(
      {
        ...{ rows: dotsOf(rows, unit, words), alike, domain, legend: legendOf(chart, words) },
        bands:
          band === undefined
            ? []
            : [{ ...band, ...fromTo(band), label: words.text(band.label), fill: theme.palette.chance }],
        ...(bracket === undefined ? {} : { bracket: { ...bracket, label: words.text(bracket.label) } }),
        lines: chart.lines.map((line) => ({ at: line.at, label: words.text(line.label) })),
        columns: [
          words.text(message("chart.column.value")),
          ...(chart.counted === null ? [] : [words.text(chart.counted ?? message("chart.column.children"))]),
        ],
        axis: axisOf(unit, 5, domain),
        title: words.text(chart.x.label),
        pitch: chart.rows.length > 20 ? 15.5 : chart.rows.length > 14 ? 17 : 20,
      },
      words,
    ),
  );
}

const fromTo = ({ low, high }: { readonly low: number; readonly high: number }) => ({ from: low, to: high });

function dotsOf(rows: readonly Row[], unit: Unit, words: Words): DotRow[] {
  return rows.map((row, i) => {
    const group = row.group === undefined ? null : words.text(row.group);
    const before = rows[i - 1]?.group;
    return {
      heading: before !== undefined && words.text(before) === group ? null : group,
      label: words.text(row.label),
      ...{ value: row.value, low: row.low, high: row.high, reading: row.reading },
      facts: [valueText(row, unit, words), words.number(row.n, "count")],
      hollow: row.marked === true,
      strong: row.reading === "doubt" || row.moves === true,
    };
  });
}

/** What the marks mean: only where some rows look different, since the heading over the figures says what dot and line are. */
function legendOf({ rows, bracket }: Intervals, words: Words): Entry[] {
  const marked = rows.some((row) => row.marked === true);
  const moves = rows.some((row) => row.moves === true);
  return [
    ...(marked || moves ? [entry(looks.dot, "interval", words)] : []),
    ...(marked ? [entry(looks.hollowDot, "interval-marked", words)] : []),
    ...(moves ? [entry(looks.diamond, "interval-moves", words)] : []),
    ...readingEntries(rows, words),
    ...(rows.some((row) => row.reading === "doubt") ? [entry(looks.diamond, "interval-doubt", words)] : []),
    ...(bracket === undefined ? [] : [{ ...looks.bracket, label: words.text(bracket.label) }]),
  ];
}

/** 'value (low to high)', or as much of it as there is. */
export function valueText(
  row: { readonly value: number | null; readonly low: number | null; readonly high: number | null },
  unit: Unit,
  words: Words,
): string {
  const value = words.number(row.value, unit);
  if (row.low === null || row.high === null) return value;
  const interval = words.interval({ low: row.low, high: row.high }, unit);
  return row.value === null ? interval : words.text(message("chart.value-interval", { value, interval }));
}
