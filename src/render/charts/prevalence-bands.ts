import { message } from "../../results/message.js";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { classAxis, classBands, prevalenceDomain } from "./bands.js";
import { type DotRow, dotRows } from "./dot-rows.js";
import { valueText } from "./intervals.js";
import type { Picture } from "./picture.js";

type PrevalenceBands = Extract<Chart, { kind: "prevalence-bands" }>;
type Row = PrevalenceBands["rows"][number];

/**
 * Prevalences with intervals on the published classes. Rows with the same classes share one frame; other classes get a
 * frame of their own, since their limits differ.
 */
export function prevalenceBands(chart: PrevalenceBands, words: Words): Picture[] {
  const groups = new Map<string, Row[]>();
  for (const row of chart.rows) {
    const key = JSON.stringify(row.bands);
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  const frames = [...groups.values()];
  const alike = chart.rows.map((row) => rowOf(row, words));
  return frames.map((rows, at) => frameOf(rows, { first: at === 0, alike }, words));
}

function rowOf(row: Row, words: Words): DotRow {
  return {
    heading: null,
    label: words.text(row.label),
    value: row.value,
    low: row.low,
    high: row.high,
    facts: [valueText(row, "share", words), words.number(row.n, "count")],
    reading: undefined,
    hollow: row.marked === true,
    strong: false,
  };
}

/** Column headings stand over the first frame only. What the axis counts is said in the figure's title. */
interface FramePlace {
  readonly first: boolean;
  readonly alike: readonly DotRow[];
}

function frameOf(rows: readonly Row[], place: FramePlace, words: Words): Picture {
  const bands = rows[0]?.bands ?? [];
  const domain = prevalenceDomain(
    bands,
    rows.flatMap((row) => [row.value, row.high]),
  );
  return dotRows({
    rows: rows.map((row) => rowOf(row, words)),
    alike: place.alike,
    bands: classBands(bands, words),
    lines: [],
    columns: [words.text(message("chart.column.value")), words.text(message("chart.column.children"))],
    headed: place.first,
    axis: classAxis(bands, domain, "", words),
    pitch: 15,
  });
}
