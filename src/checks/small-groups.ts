import { message } from "../results/message.js";
import type { Chart, CheckResult, GroupReading, Message, Table, TableCell } from "../results/schema.js";
import { fewestChildren } from "./reading.js";

/**
 * Groups of few children, who could be known to a reader. One that a check notices all the same (rows that repeat each
 * other) is named in its sentences, and keeps its numbers.
 */
const isWithheld = ({ n, reading }: GroupReading): boolean =>
  n > 0 && n < fewestChildren && (reading === "unknown" || reading === "expected");

const why = (): Message => message("cell.too-few", { limit: fewestChildren });

function group(own: GroupReading): GroupReading {
  const { adjustedProbability: _, ...kept } = own;
  const quantities = own.quantities.map(({ id, unit, n }) => ({
    id,
    unit,
    value: null,
    reason: why(),
    ...(n === undefined ? {} : { n }),
  }));
  return { ...kept, quantities };
}

/** A row of a group that is withheld: its label and number of children stay, every other number goes. */
function row(cells: readonly TableCell[], columns: Table["columns"], labels: ReadonlySet<string>): TableCell[] | null {
  if (!cells.some((cell) => typeof cell === "string" && labels.has(cell))) return null;
  const count = columns.findIndex(({ unit }, at) => unit === "count" && typeof cells[at] === "number");
  const n = cells[count];
  if (typeof n !== "number" || n === 0 || n >= fewestChildren) return null;
  return cells.map((cell, at) => (typeof cell === "number" && at !== count ? null : cell));
}

function table(own: Table, labels: ReadonlySet<string>): Table {
  const rows = own.rows.map((cells) => ({ cells, withheld: row(cells, own.columns, labels) }));
  if (rows.every(({ withheld }) => withheld === null)) return own;
  const note = message("checks.small-groups.note", { limit: fewestChildren });
  return { ...own, rows: rows.map(({ cells, withheld }) => withheld ?? cells), notes: [...(own.notes ?? []), note] };
}

const isOneOf = (label: string | Message, labels: ReadonlySet<string>): boolean =>
  typeof label === "string" && labels.has(label);

function chart(own: Chart, labels: ReadonlySet<string>): Chart {
  if (own.kind === "intervals") {
    const rows = own.rows.map((one) =>
      isOneOf(one.label, labels) && one.n < fewestChildren ? { ...one, value: null, low: null, high: null } : one,
    );
    return { ...own, rows };
  }
  if (own.kind === "lines") return { ...own, panels: own.panels.filter(({ label }) => !isOneOf(label, labels)) };
  return own;
}

/**
 * What a check found, without the numbers of groups of fewer than 25 children: such groups are not read, and a share of a
 * few children tells of each. Their number of children stays.
 */
export function withoutSmallGroups(result: CheckResult): CheckResult {
  const labels = new Set(result.groups.filter(isWithheld).map(({ label }) => label));
  if (labels.size === 0) return result;
  return {
    ...result,
    groups: result.groups.map((own) => (isWithheld(own) ? group(own) : own)),
    tables: result.tables.map((own) => table(own, labels)),
    charts: result.charts.map((own) => chart(own, labels)),
  };
}
