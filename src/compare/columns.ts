import type { Message, Table } from "../results/schema.js";

type Column = Table["columns"][number];

/** Columns of a table from their ids and units; `label` gives the words of an id. */
export function columnsOf(
  label: (id: string) => Message,
  named: readonly (readonly [id: string, unit: Column["unit"]])[],
): Column[] {
  return named.map(([id, unit]) => ({ id, label: label(id), unit }));
}
