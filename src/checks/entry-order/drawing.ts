import { message } from "../../results/message.js";
import type { Chart, Reading, Table } from "../../results/schema.js";
import { type DrawnShares, unusualLabels } from "../shared/share-drawing.js";
import type { EntryOrderNumbers } from "./numbers.js";

/** The shares of forms whose time is unusual. */
export function chartOf(numbers: EntryOrderNumbers): Chart {
  const all = numbers.shares.map(({ kind, share }) =>
    message("checks.entry-order.chart.part", { kind: message(`checks.entry-order.kind.${kind}`), share }),
  );
  return {
    id: "entry-order",
    kind: "intervals",
    title: message("checks.entry-order.chart.title"),
    alternative: message("checks.entry-order.chart.alternative", { all }),
    x: { label: message("checks.entry-order.chart.axis"), unit: "share" },
    counted: message("checks.entry-order.column.forms"),
    lines: [],
    rows: numbers.shares.map(({ kind, share, interval, n, reading, of }) => ({
      label: message(`checks.entry-order.kind.${kind}`),
      value: share,
      low: interval.low,
      high: interval.high,
      n,
      of,
      reading,
    })),
  };
}

/** The same as a table. */
export function tableOf(numbers: EntryOrderNumbers): Table {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.entry-order.column.${id}`),
    unit,
  });
  return {
    id: "entry-order",
    of: numbers.shares.map(({ of }) => of),
    caption: message("checks.entry-order.table.caption"),
    columns: [
      column("what", "text"),
      column("forms", "count"),
      column("cases", "count"),
      column("share", "share"),
      column("low", "share"),
      column("high", "share"),
      column("reading", "reading"),
    ],
    rows: numbers.shares.map(({ kind, n, cases, share, interval, reading }) => [
      message(`checks.entry-order.kind.${kind}`),
      n,
      cases,
      share,
      interval.low,
      interval.high,
      reading,
    ]),
    notes: [message("checks.entry-order.table.note")],
  };
}

/** Forms with any unusual time, by team. */
export function drawn(numbers: EntryOrderNumbers, reading: Reading): DrawnShares {
  const teams = unusualLabels(numbers.teams);
  return {
    id: "entry-order-teams",
    words: "checks.entry-order.teams",
    unit: "share",
    overall: null,
    reading,
    groups: numbers.teams,
    values: { count: teams.length, total: numbers.teams.length, teams },
  };
}
