import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { classAxis, classBands, prevalenceDomain } from "./bands.js";
import { dotRows } from "./dot-rows.js";
import { valueText } from "./intervals.js";
import type { Picture } from "./picture.js";

type Scenarios = Extract<Chart, { kind: "scenarios" }>;

/** More rows than this do not fit a page: the picture goes on in another one. */
const rowsAPage = 40;

/** Every scenario's estimate and interval on the class bands; those that move the class stand out, contested ones are hollow. */
export function scenarios(chart: Scenarios, words: Words): Picture[] {
  const domain = prevalenceDomain(chart.bands, [
    chart.published,
    ...chart.rows.flatMap((row) => [row.value, row.high]),
  ]);
  const axis = classAxis(chart.bands, domain, words.text(message("axis.prevalence")), words);
  const pages: Picture[] = [];
  for (let first = 0; first < chart.rows.length; first += rowsAPage) {
    const rows = chart.rows.slice(first, first + rowsAPage);
    pages.push(
      dotRows({
        rows: rows.map((row, i) => {
          const group = words.text(row.group);
          const before = rows[i - 1];
          return {
            heading: before !== undefined && words.text(before.group) === group ? null : group,
            label: words.text(row.label),
            value: row.value,
            low: row.low,
            high: row.high,
            facts: [valueText(row, "share", words)],
            reading: undefined,
            hollow: row.kind === "sensitivity",
            strong: row.moves,
          };
        }),
        bands: classBands(chart.bands, words),
        lines: [
          {
            at: chart.published,
            label: words.text(message("chart.published")),
          },
        ],
        columns: [words.text(message("chart.column.value"))],
        axis,
        pitch: 15.5,
      }),
    );
  }
  return pages;
}
