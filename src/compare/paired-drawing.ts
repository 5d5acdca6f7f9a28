import type { Difference, PairedScenario } from "../results/comparison.js";
import { fromResults } from "../results/group.js";
import { message } from "../results/message.js";
import type { Chart, Message, Table } from "../results/schema.js";
import { columnsOf } from "./columns.js";
import { type Compared, comparedCells, verdictCell } from "./compared.js";
import { pairName } from "./pair-name.js";

/** Rows printed in the table of pairs; all of them stand in the comparison's files. */
const mostListed = 40;

/** A difference that was taken through the scenarios. */
export interface Case extends Compared {
  readonly difference: Difference & { readonly paired: NonNullable<Difference["paired"]> };
  readonly scenarios: readonly PairedScenario[];
}

function valuesOf(one: Case): Record<string, Message | number | string> {
  const { difference, pair, first, second } = one;
  const { paired } = difference;
  return {
    estimate: message(`estimate.${difference.estimate}`),
    pair: pairName(pair, first, second),
    first: difference.first ?? Number.NaN,
    second: difference.second ?? Number.NaN,
    difference: difference.difference ?? Number.NaN,
    low: difference.interval?.low ?? Number.NaN,
    high: difference.interval?.high ?? Number.NaN,
    has: paired.repaired == null ? "no" : "yes",
    repaired: paired.repaired?.difference ?? 0,
    repairedLow: paired.repaired?.interval.low ?? 0,
    repairedHigh: paired.repaired?.interval.high ?? 0,
  };
}

/** 'wasting, Yundeth from March to October: the rise from 9.8 % to 13.1 %; with the findings of both put right 1.8 points.' */
export function pairedSentence(one: Case): Message {
  const kind = one.difference.verdict === "no-clear-change" ? "unclear" : one.difference.verdict;
  const way = one.pair.question === "rounds" ? kind : kind === "unclear" ? "places-unclear" : `places-${kind}`;
  return message(`compare.paired.finding.${way}`, valuesOf(one));
}

export function pairedPicture(one: Case): Chart {
  const { difference, pair } = one;
  const drawn = one.scenarios.filter((scenario) => scenario.difference !== null && scenario.interval !== null);
  const published = {
    group: message("compare.paired.chart.as-published"),
    label: message("compare.paired.chart.difference"),
    value: difference.difference,
    low: difference.interval?.low ?? null,
    high: difference.interval?.high ?? null,
    n: one.first.children + one.second.children,
    of: fromResults,
  };
  const rows = (["estimate", "bound", "sensitivity"] as const).flatMap((kind) =>
    drawn
      .filter((scenario) => scenario.kind === kind)
      .map((scenario) => ({
        group: message(`compare.paired.group.${kind}`),
        label: scenario.label,
        value: scenario.difference,
        low: scenario.interval?.low ?? null,
        high: scenario.interval?.high ?? null,
        n: one.first.children + one.second.children,
        of: fromResults,
        ...(scenario.verdict === difference.verdict ? {} : { moves: true }),
      })),
  );
  return {
    id: `paired-${difference.estimate}-${pair.first}-${pair.second}`,
    kind: "intervals",
    title: message("compare.paired.chart.title", valuesOf(one)),
    alternative: pairedSentence(one),
    x: { label: message(`compare.paired.chart.axis.${pair.question}`), unit: "share-difference" },
    counted: null,
    lines: [{ at: 0, label: message("compare.paired.chart.zero") }],
    rows: [published, ...rows],
  };
}

export function pairedTable(estimate: string, cases: readonly Case[]): Table {
  const shown = cases.slice(0, mostListed);
  return {
    id: `paired-${estimate}`,
    of: fromResults,
    caption: message("compare.paired.table.caption", { estimate: message(`estimate.${estimate}`) }),
    columns: columnsOf(
      (id) => message(`compare.paired.table.${id}`),
      [
        ["pair", "text"],
        ["first", "share"],
        ["second", "share"],
        ["difference", "share-difference"],
        ["low", "share-difference"],
        ["high", "share-difference"],
        ["verdict", "text"],
        ["stands", "count"],
        ["total", "count"],
        ["mover", "text"],
      ],
    ),
    rows: shown.map((one) => {
      const { difference, scenarios } = one;
      const mover = scenarios.find(({ scenario }) => scenario === difference.paired.movers[0]);
      return [
        ...comparedCells(one),
        verdictCell(one),
        difference.paired.stands,
        difference.paired.total,
        mover === undefined ? null : mover.label,
      ];
    }),
    notes: [
      message("compare.paired.table.note"),
      ...(cases.length > shown.length
        ? [message("compare.paired.table.more", { shown: shown.length, total: cases.length })]
        : []),
    ],
  };
}
