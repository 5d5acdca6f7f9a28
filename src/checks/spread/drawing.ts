import { groupName } from "../../results/group-name.js";
import { message } from "../../results/message.js";
import type { Chart, Message, Table } from "../../results/schema.js";
import type { GroupSpread, IndexSpread } from "./numbers.js";
import { expectedOfCarefulMeasuring } from "./reference.js";
import { indexValues, type SpreadNumbers } from "./words.js";

/** Areas and teams print their own labels; sex and age groups are words. */
function groupLabel(group: GroupSpread): Message | string {
  return groupName(group);
}

/** One index with its groups, against the lines it is read by. */
export function chart(numbers: SpreadNumbers, one: IndexSpread): Chart {
  const own = numbers.groups.filter((group) => group.index === one.reference.index);
  return {
    id: `spread-${one.reference.index}`,
    kind: "intervals",
    title: message("checks.spread.chart.title", indexValues(one)),
    alternative: message("checks.spread.meaning.index", indexValues(one)),
    x: { label: message("checks.spread.chart.axis"), unit: "z" },
    band: { ...expectedOfCarefulMeasuring, label: message("checks.spread.chart.expected") },
    ...(one.reference.observed === null
      ? {}
      : { bracket: { ...one.reference.observed, label: message("checks.spread.chart.observed") } }),
    lines: [
      { at: 1, label: message("checks.spread.chart.standard") },
      { at: one.reference.explainAbove, label: message("checks.spread.chart.explain") },
    ],
    rows: [
      {
        label: message("checks.spread.chart.all"),
        value: one.fixed.value,
        low: one.fixed.low,
        high: one.fixed.high,
        n: one.fixed.n,
        of: one.of,
        reading: one.reading,
      },
      ...own.map((group) => ({
        group: message(`checks.spread.by.${group.by}`),
        label: groupLabel(group),
        value: group.spread.value,
        low: group.spread.low,
        high: group.spread.high,
        n: group.spread.n,
        of: group.of,
        reading: group.reading,
        ...(group.spread.n < 50 ? { marked: true } : {}),
      })),
    ],
  };
}

/** The same numbers as a table. */
export function tables(numbers: SpreadNumbers): Table[] {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.spread.table.${id}`),
    unit,
  });
  return [
    {
      id: "spread",
      of: numbers.indices.flatMap((one) => [
        one.of,
        ...(one.aroundMean === null ? [] : [one.aroundMean.of]),
        ...numbers.groups.filter(({ index }) => index === one.reference.index).map(({ of }) => of),
      ]),
      caption: message("checks.spread.table.caption"),
      columns: [
        column("index", "text"),
        column("group", "text"),
        column("n", "count"),
        column("sd", "z"),
        column("low", "z"),
        column("high", "z"),
        column("ratio", "ratio"),
        column("adjusted", "probability"),
        column("reading", "reading"),
      ],
      rows: numbers.indices.flatMap((one) => {
        const index = message(`index.${one.reference.index}`);
        const own = numbers.groups.filter((group) => group.index === one.reference.index);
        const around = one.aroundMean;
        return [
          [
            index,
            message("checks.spread.chart.all"),
            one.fixed.n,
            one.fixed.value,
            one.fixed.low,
            one.fixed.high,
            null,
            null,
            one.reading,
          ],
          ...(around === null
            ? []
            : [
                [
                  index,
                  message("checks.spread.table.around-mean"),
                  around.n,
                  around.value,
                  around.low,
                  around.high,
                  null,
                  null,
                  null,
                ],
              ]),
          ...own.map((group) => [
            index,
            groupLabel(group),
            group.spread.n,
            group.spread.value,
            group.spread.low,
            group.spread.high,
            Number.isNaN(group.ratio) ? null : group.ratio,
            Number.isNaN(group.adjustedProbability) ? null : group.adjustedProbability,
            group.reading,
          ]),
        ];
      }),
      notes: [message("checks.spread.table.note")],
    },
  ];
}
