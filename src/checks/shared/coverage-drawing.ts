import { noChildren } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { Chart, Message, Table, TableCell, Unit } from "../../results/schema.js";
import type { Coverage, ReadCoverage } from "./coverage.js";

/** How what was reached of the plan is drawn: the same numbers as a chart of intervals and as a table. */
export interface DrawnCoverage<Counted extends Coverage> {
  readonly id: string;
  /** Messages `<words>.title`, `.alternative`, `.axis` and `.caption`. */
  readonly words: string;
  readonly overall: ReadCoverage<Counted>;
  readonly strata: readonly ReadCoverage<Counted>[];
  /** Values for the alternative text. */
  readonly values: Message["values"];
  /** Columns of the table beyond those that every coverage has: messages `<words>.column.<id>`. */
  readonly more: readonly { readonly id: string; readonly of: (counted: Counted) => TableCell }[];
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function nameOf({ stratum }: Coverage): Message | string {
  return stratum ?? message("checks.coverage.whole");
}

/** Share reached, the whole survey first, then each stratum. */
export function coverageChart<Counted extends Coverage>(drawn: DrawnCoverage<Counted>): Chart {
  return {
    id: drawn.id,
    kind: "intervals",
    title: message(`${drawn.words}.title`),
    alternative: message(`${drawn.words}.alternative`, drawn.values),
    x: { label: message(`${drawn.words}.axis`), unit: "share" },
    counted: message("checks.coverage.column.planned"),
    lines: [],
    rows: [drawn.overall, ...drawn.strata].map((coverage) => ({
      label: nameOf(coverage),
      value: finite(coverage.share),
      low: finite(coverage.interval.low),
      high: finite(coverage.interval.high),
      n: coverage.planned,
      of: noChildren,
      reading: coverage.reading,
    })),
  };
}

/** The same as a table. */
export function coverageTable<Counted extends Coverage>(drawn: DrawnCoverage<Counted>): Table {
  const column = (id: string, unit: Unit | "text" | "reading") => ({
    id,
    label: message(`checks.coverage.column.${id}`),
    unit,
  });
  return {
    id: drawn.id,
    of: noChildren,
    caption: message(`${drawn.words}.caption`),
    columns: [
      column("stratum", "text"),
      column("planned", "count"),
      column("reached", "count"),
      ...drawn.more.map(({ id }) => column(id, "count")),
      column("share", "share"),
      column("low", "share"),
      column("high", "share"),
      column("reading", "reading"),
    ],
    rows: [drawn.overall, ...drawn.strata].map((coverage) => [
      nameOf(coverage),
      coverage.planned,
      coverage.reached,
      ...drawn.more.map(({ of }) => of(coverage)),
      finite(coverage.share),
      finite(coverage.interval.low),
      finite(coverage.interval.high),
      coverage.reading,
    ]),
  };
}
