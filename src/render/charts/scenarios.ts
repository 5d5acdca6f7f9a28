import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { classAxis, classBands, prevalenceDomain } from "./bands.js";
import { type DotRow, dotRows } from "./dot-rows.js";
import type { Figure } from "./figure.js";
import { valueText } from "./intervals.js";
import { entry, looks } from "./legend.js";

type Scenarios = Extract<Chart, { kind: "scenarios" }>;

/** More rows than this do not fit a page: the picture goes on in another one. */
const rowsAPicture = 40;

/** Every scenario's estimate and interval on the class bands; those that move the class stand out, contested ones are hollow. */
export function scenarios(chart: Scenarios, words: Words): Figure[] {
  const values = chart.rows.flatMap((row) => [row.value, row.high]);
  const domain = prevalenceDomain(chart.bands, [chart.published, ...values]);
  const rows = chart.rows.map((row, i) => dotOf(row, i % rowsAPicture === 0 ? undefined : chart.rows[i - 1], words));
  const legend = [
    entry(looks.dot, "scenario", words),
    ...(chart.rows.some((row) => row.moves) ? [entry(looks.diamond, "scenario-moves", words)] : []),
    ...(chart.rows.some((row) => row.kind === "sensitivity")
      ? [entry(looks.hollowDot, "scenario-contested", words)]
      : []),
  ];
  return Array.from({ length: Math.ceil(rows.length / rowsAPicture) }, (_, picture) =>
    dotRows(
      {
        ...{ rows: rows.slice(picture * rowsAPicture, (picture + 1) * rowsAPicture), alike: rows, domain, legend },
        bands: classBands(chart.bands, words),
        lines: [{ at: chart.published, label: words.text(message("chart.published")) }],
        columns: [words.text(message("chart.column.value"))],
        axis: classAxis(chart.bands, domain),
        title: words.text(message("axis.prevalence")),
        pitch: 16.8,
      },
      words,
    ),
  );
}

function dotOf(row: Scenarios["rows"][number], before: Scenarios["rows"][number] | undefined, words: Words): DotRow {
  const group = words.text(row.group);
  return {
    heading: before !== undefined && words.text(before.group) === group ? null : group,
    label: words.text(row.label),
    ...{ value: row.value, low: row.low, high: row.high },
    facts: [valueText(row, "share", words)],
    ...{ reading: undefined, hollow: row.kind === "sensitivity", strong: row.moves },
  };
}
