import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { axisFor } from "./axes.js";
import { headingLines, mostLabelWidth, size } from "./dot-layout.js";
import { type DotRow, dotRows } from "./dot-rows.js";
import { funnel } from "./funnel.js";
import { valueText } from "./intervals.js";
import type { Picture } from "./picture.js";
import { wrapText } from "./text-width.js";
import { roundRange } from "./ticks.js";

type AgainstChance = Extract<Chart, { kind: "against-chance" }>;
type Panel = AgainstChance["panels"][number];

/** More rows than this go on in another picture: one picture must fit a page. */
const rowsAPicture = 40;
/** From more surveys than this on, rows are no longer read one by one: a funnel shows them all. */
export const mostRows = 60;

/** A quality figure of several surveys, each on the band that chance alone gives at its own number of children. */
export function againstChance(chart: AgainstChance, words: Words): Picture[] {
  const named = chart.panels.length > 1;
  return chart.panels.flatMap((panel) =>
    panel.rows.length > mostRows ? [funnel(panel, named, words)] : picturesOf(panel, named, words),
  );
}

function picturesOf(panel: Panel, named: boolean, words: Words): Picture[] {
  const heading = named ? words.text(panel.label) : null;
  const alike = panel.rows.map((row, at) => rowOf(row, panel, at === 0 ? heading : null, words));
  const count = Math.ceil(panel.rows.length / rowsAPicture);
  const each = Math.ceil(panel.rows.length / Math.max(count, 1));
  return Array.from({ length: count }, (_, i) => {
    const rows = panel.rows.slice(i * each, (i + 1) * each);
    return pictureOf(
      panel,
      rows.map((row, at) => rowOf(row, panel, at === 0 ? heading : null, words)),
      alike,
      words,
    );
  });
}

function pictureOf(panel: Panel, rows: readonly DotRow[], alike: readonly DotRow[], words: Words): Picture {
  const values = panel.rows.flatMap((row) => [
    row.value,
    row.low,
    row.high,
    row.expected,
    row.chanceLow,
    row.chanceHigh,
  ]);
  const domain = roundRange(
    values.filter((value) => value !== null),
    panel.unit,
  );
  return dotRows({
    rows,
    alike,
    bands: [],
    lines: [],
    columns: [words.text(message("chart.column.value")), words.text(message("chart.column.children"))],
    axis: axisFor(domain, 5, panel.unit, isWhole(rows[0]?.heading) ? "" : words.text(panel.label), words),
    pitch: panel.rows.length > 20 ? 15.5 : panel.rows.length > 14 ? 17 : 20,
  });
}

/** True where the name over the rows is there and has room: the axis need not say it again. */
const isWhole = (heading: string | null | undefined): boolean =>
  heading != null && wrapText(heading, mostLabelWidth, size, 600).length <= headingLines;

function rowOf(row: Panel["rows"][number], panel: Panel, heading: string | null, words: Words): DotRow {
  return {
    heading,
    label: words.text(row.label),
    value: row.value,
    low: row.low,
    high: row.high,
    facts: [valueText(row, panel.unit, words), words.number(row.n, "count")],
    reading: row.reading,
    hollow: false,
    strong: row.reading === "doubt",
    band: { low: row.chanceLow, high: row.chanceHigh, expected: row.expected },
  };
}
