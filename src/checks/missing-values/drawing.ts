import { message } from "../../results/message.js";
import type { Chart, Reading, Table } from "../../results/schema.js";
import { type DrawnShares, unusualLabels } from "../shared/share-drawing.js";
import { type MissingValuesNumbers, setAsideIn, worstOf } from "./readings.js";

/** The share missing of every value. */
export function chartOf(numbers: MissingValuesNumbers): Chart {
  const worst = worstOf(numbers);
  return {
    id: "missing-values",
    kind: "intervals",
    title: message("checks.missing-values.chart.title"),
    alternative: message("checks.missing-values.chart.alternative", {
      role: message(`checks.missing-values.role.${worst.role}`),
      share: worst.share,
      any: numbers.any.share,
    }),
    x: { label: message("checks.missing-values.chart.axis"), unit: "share" },
    lines: [],
    rows: numbers.roles.map(({ role, share, interval, n, reading, needed, of }) => ({
      label: message(`checks.missing-values.role.${role}`),
      value: share,
      low: interval.low,
      high: interval.high,
      n,
      of,
      ...(needed ? { reading } : {}),
    })),
  };
}

/** The same as a table. */
export function tableOf(numbers: MissingValuesNumbers): Table {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.missing-values.column.${id}`),
    unit,
  });
  const anySetAside = setAsideIn(numbers) > 0;
  return {
    id: "missing-values",
    caption: message("checks.missing-values.table.caption"),
    columns: [
      column("value", "text"),
      column("children", "count"),
      column("missing", "count"),
      ...(anySetAside ? [column("set-aside", "count")] : []),
      column("share", "share"),
      column("low", "share"),
      column("high", "share"),
      column("reading", "reading"),
    ],
    rows: numbers.roles.map(({ role, n, cases, setAside, share, interval, reading, needed }) => [
      message(`checks.missing-values.role.${role}`),
      n,
      cases,
      ...(anySetAside ? [setAside] : []),
      share,
      interval.low,
      interval.high,
      needed ? reading : null,
    ]),
    of: numbers.roles.map(({ of }) => of),
    notes: [message("checks.missing-values.table.note")],
  };
}

/** Children with everything an index needs. */
export function readyTable(numbers: MissingValuesNumbers): Table {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.missing-values.column.${id}`),
    unit,
  });
  return {
    id: "complete-for-index",
    of: numbers.ready.map(({ of }) => of),
    caption: message("checks.missing-values.ready.caption"),
    columns: [
      column("index", "text"),
      column("children", "count"),
      column("complete", "count"),
      column("share-complete", "share"),
      column("low", "share"),
      column("high", "share"),
    ],
    rows: numbers.ready.map(({ index, n, cases, share, interval }) => [
      message(`index.${index}`),
      n,
      cases,
      share,
      interval.low,
      interval.high,
    ]),
  };
}

/** Children who lack a value, by team. */
export function drawn(numbers: MissingValuesNumbers, reading: Reading): DrawnShares {
  const teams = unusualLabels(numbers.teams);
  return {
    id: "missing-values-teams",
    words: "checks.missing-values.teams",
    unit: "share",
    overall: null,
    reading,
    groups: numbers.teams,
    values: { count: teams.length, total: numbers.teams.length, teams, share: numbers.any.share },
  };
}
