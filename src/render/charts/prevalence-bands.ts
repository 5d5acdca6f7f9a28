import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { classAxis, classBands, prevalenceDomain } from "./bands.js";
import { type DotRow, dotRows } from "./dot-rows.js";
import type { Figure } from "./figure.js";
import { valueText } from "./intervals.js";
import { entry, looks } from "./legend.js";

type PrevalenceBands = Extract<Chart, { kind: "prevalence-bands" }>;
type Row = PrevalenceBands["rows"][number];

/**
 * Prevalences with intervals on the published classes. Rows with the same classes share one frame; other classes get a
 * frame of their own, since their limits differ. Column headings stand over the first frame, the legend below the last one.
 */
export function prevalenceBands(chart: PrevalenceBands, words: Words): Figure[] {
  const groups = new Map<string, Row[]>();
  for (const row of chart.rows) {
    const classes = JSON.stringify(row.bands);
    groups.set(classes, [...(groups.get(classes) ?? []), row]);
  }
  const frames = [...groups.values()];
  const alike = chart.rows.map((row) => dotOf(row, words));
  const legend = chart.rows.some((row) => row.marked === true)
    ? [entry(looks.dot, "interval", words), entry(looks.hollowDot, "interval-marked", words)]
    : [];
  return frames.map((rows, at) => {
    const bands = rows[0]?.bands ?? [];
    const values = rows.flatMap((row) => [row.value, row.high]);
    const domain = prevalenceDomain(bands, values);
    return dotRows(
      {
        ...{ rows: rows.map((row) => dotOf(row, words)), alike, headed: at === 0, domain, lines: [] },
        bands: classBands(bands, words),
        columns: [words.text(message("chart.column.value")), words.text(message("chart.column.children"))],
        // What the axis counts is said in the figure's title.
        ...{ axis: classAxis(bands, domain), title: "", pitch: 15 },
        legend: at === frames.length - 1 ? legend : [],
      },
      words,
    );
  });
}

const dotOf = (row: Row, words: Words): DotRow => ({
  ...{ heading: null, label: words.text(row.label), value: row.value, low: row.low, high: row.high },
  facts: [valueText(row, "share", words), words.number(row.n, "count")],
  ...{ reading: undefined, hollow: row.marked === true, strong: false },
});
