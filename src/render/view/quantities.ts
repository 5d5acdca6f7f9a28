import { groupName } from "../../results/group-name.js";
import { message } from "../../results/message.js";
import type { CheckResult, GroupReading, Quantity } from "../../results/schema.js";
import { emDash } from "../numbers.js";
import type { Words } from "../words.js";
import { figureCell, makeTable, numberCell, readingCell, type TableView, textCell } from "./table.js";

const nameOf = (quantity: Quantity, words: Words): string => words.text(message(`quantity.${quantity.id}`));

/** 'expected (low to high)' by chance alone, as far as it is known. */
function chanceText(quantity: Quantity, words: Words): string {
  const { chance, unit } = quantity;
  if (chance === undefined) return emDash;
  const limits =
    chance.low !== undefined && chance.high !== undefined
      ? words.interval({ low: chance.low, high: chance.high }, unit)
      : chance.high !== undefined
        ? words.text(message("number.up-to", { value: words.number(chance.high, unit) }))
        : null;
  if (chance.expected === undefined) return limits ?? emDash;
  const value = words.number(chance.expected, unit);
  return limits === null ? value : words.text(message("chart.value-interval", { value, interval: limits }));
}

/** The numbers behind a finding, one a row, with only those columns that some row fills. */
export function quantitiesTable(check: CheckResult, words: Words): TableView | null {
  const { quantities } = check;
  if (quantities.length === 0) return null;
  const columns: {
    id: string;
    has: (q: Quantity) => boolean;
    text: (q: Quantity) => string;
  }[] = [
    {
      id: "value",
      has: () => true,
      text: (q) => words.number(q.value, q.unit),
    },
    {
      id: "interval",
      has: (q) => q.interval !== undefined,
      text: (q) => words.interval(q.interval, q.unit),
    },
    {
      id: "chance",
      has: (q) => q.chance !== undefined,
      text: (q) => chanceText(q, words),
    },
    {
      id: "probability",
      has: (q) => q.probability !== undefined,
      text: (q) => words.number(q.probability, "probability"),
    },
    {
      id: "children",
      has: (q) => q.n !== undefined,
      text: (q) => words.number(q.n, "count"),
    },
  ];
  const shown = columns.filter((column) => quantities.some(column.has));
  return makeTable(
    {
      id: `${check.id}-numbers`,
      caption: words.text(message("table.numbers.caption")),
      columns: [
        { label: words.text(message("table.numbers.measure")), numeric: false },
        ...shown.map((column) => ({
          label: words.text(message(`table.numbers.${column.id}`)),
          numeric: true,
        })),
      ],
      notes: quantities
        .filter((q) => q.value === null && q.reason !== undefined)
        .map((q) =>
          words.text(
            message("table.numbers.reason", {
              measure: nameOf(q, words),
              reason: q.reason ?? "",
            }),
          ),
        ),
    },
    quantities.map((q) => [textCell(nameOf(q, words)), ...shown.map((column) => figureCell(column.text(q)))]),
  );
}

/** The groups of a check, one a row, each with its own numbers and reading. */
export function groupsTable(check: CheckResult, words: Words): TableView | null {
  const { groups } = check;
  if (groups.length === 0 || alreadyTabled(check)) return null;
  const ids = new Map<string, Quantity>();
  for (const group of groups)
    for (const quantity of group.quantities) if (!ids.has(quantity.id)) ids.set(quantity.id, quantity);
  const adjusted = groups.some((group) => group.adjustedProbability !== undefined);
  const columns = [...ids.values()];
  return makeTable(
    {
      id: `${check.id}-groups`,
      caption: words.text(message("table.groups.caption")),
      columns: [
        { label: words.text(message("table.groups.group")), numeric: false },
        { label: words.text(message("table.numbers.children")), numeric: true },
        ...columns.map((quantity) => ({
          label: nameOf(quantity, words),
          numeric: true,
        })),
        ...(adjusted
          ? [
              {
                label: words.text(message("table.groups.adjusted")),
                numeric: true,
              },
            ]
          : []),
        { label: words.text(message("table.groups.reading")), numeric: false },
      ],
      notes: adjusted ? [words.text(message("table.groups.adjusted-note"))] : [],
    },
    groups.map((group) => [
      textCell(words.text(groupName(group))),
      numberCell(group.n, "count", words),
      ...columns.map((column) => groupValue(group, column.id, words)),
      ...(adjusted ? [numberCell(group.adjustedProbability, "probability", words)] : []),
      readingCell(group.reading, words),
    ]),
  );
}

function groupValue(group: GroupReading, id: string, words: Words) {
  const quantity = group.quantities.find((candidate) => candidate.id === id);
  return quantity === undefined ? figureCell(emDash) : numberCell(quantity.value, quantity.unit, words);
}

/** True when the check brings a table of its own that reads its groups one by one. */
function alreadyTabled(check: CheckResult): boolean {
  return check.tables.some(
    (table) => table.columns.some((column) => column.unit === "reading") && table.rows.length >= check.groups.length,
  );
}
