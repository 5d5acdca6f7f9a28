import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { axisOf, roundRange } from "./axis.js";
import { type DotRow, dotRows, headingLines, mostLabelWidth } from "./dot-rows.js";
import type { Figure } from "./figure.js";
import { funnel } from "./funnel.js";
import { valueText } from "./intervals.js";
import { entry, looks, readingEntries } from "./legend.js";
import { wrapText } from "./text-width.js";

type AgainstChance = Extract<Chart, { kind: "against-chance" }>;
type Panel = AgainstChance["panels"][number];

/** More rows than this go on in another picture: one picture must fit a page. */
const rowsAPicture = 40;
/** From more surveys than this on, rows are no longer read one by one: a funnel shows them all. */
const mostRows = 60;

/** A quality figure of several surveys, each on the band that chance alone gives at its own number of children. */
export function againstChance(chart: AgainstChance, words: Words): Figure[] {
  const isNamed = chart.panels.length > 1;
  const asRows = chart.panels.filter((panel) => panel.rows.length <= mostRows);
  const last = asRows.at(-1);
  const shown = asRows.flatMap((panel) => panel.rows);
  return chart.panels.flatMap((panel) =>
    panel.rows.length > mostRows
      ? [funnel(panel, isNamed, words)]
      : // One legend stands below the last figure of rows, for all of them.
        rowFigures(panel, { isNamed, legendOf: panel === last ? shown : [] }, words),
  );
}

function rowFigures(
  panel: Panel,
  { isNamed, legendOf }: { readonly isNamed: boolean; readonly legendOf: Panel["rows"] },
  words: Words,
): Figure[] {
  const heading = isNamed ? words.text(panel.label) : null;
  // Where the name over the rows is there and has room, the axis need not say it again.
  const isWhole = heading !== null && wrapText(heading, mostLabelWidth, 12, 600).length <= headingLines;
  const count = Math.max(1, Math.ceil(panel.rows.length / rowsAPicture));
  const each = Math.ceil(panel.rows.length / count);
  const dots = panel.rows.map((row, i) => dotOf(row, panel, i % each === 0 ? heading : null, words));
  const values = panel.rows.flatMap((row) => [
    row.value,
    row.low,
    row.high,
    row.expected,
    row.chanceLow,
    row.chanceHigh,
  ]);
  const domain = roundRange(values);
  const legend = [
    entry(looks.chance, "chance-band", words),
    ...(legendOf.some((row) => row.expected !== null) ? [entry(looks.expected, "expected", words)] : []),
    ...readingEntries(legendOf, words),
    ...(legendOf.some((row) => row.reading === "doubt") ? [entry(looks.diamond, "interval-doubt", words)] : []),
  ];
  return Array.from({ length: count }, (_, i) =>
    dotRows(
      {
        ...{ rows: dots.slice(i * each, (i + 1) * each), alike: dots, bands: [], lines: [], domain },
        columns: [words.text(message("chart.column.value")), words.text(message("chart.column.children"))],
        axis: axisOf(panel.unit, 5, domain),
        title: isWhole ? "" : words.text(panel.label),
        pitch: panel.rows.length > 20 ? 15.5 : panel.rows.length > 14 ? 17 : 20,
        legend: i === count - 1 && legendOf.length > 0 ? legend : [],
      },
      words,
    ),
  );
}

const dotOf = (row: Panel["rows"][number], panel: Panel, heading: string | null, words: Words): DotRow => ({
  ...{ heading, label: words.text(row.label), value: row.value, low: row.low, high: row.high },
  facts: [valueText(row, panel.unit, words), words.number(row.n, "count")],
  ...{ reading: row.reading, hollow: false, strong: row.reading === "doubt" },
  band: { low: row.chanceLow, high: row.chanceHigh, expected: row.expected },
});
