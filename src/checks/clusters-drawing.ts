import { message } from "../results/message.js";
import type { Chart, Message, Reading, Table } from "../results/schema.js";
import type { OutcomeDispersion } from "./cluster-cases.js";
import type { ClustersDifferNumbers } from "./cluster-findings.js";
import { finding, outcomeMeaning, worded } from "./clusters-words.js";

/** Clusters in the pictures are numbered by rank, never by name; very many of them would not be readable. */
const mostClustersDrawn = 150;

function rankChart(one: OutcomeDispersion, alternative: Message): Chart {
  return {
    id: `clusters-differ-${one.outcome}`,
    kind: "counts-over",
    title: message("checks.clusters-differ.chart.rank-title", {
      outcome: message(`checks.clusters-differ.subject.${one.outcome}`),
    }),
    alternative,
    x: { label: message("checks.clusters-differ.chart.rank"), unit: "count" },
    bars: one.clusters.map((cluster, rank) => {
      const expected = cluster.children * one.share;
      const half = 1.959963984540054 * Math.sqrt(expected * (1 - one.share));
      const low = Math.max(0, expected - half);
      const high = Math.min(cluster.children, expected + half);
      return {
        at: rank + 1,
        count: cluster.cases,
        expected,
        low,
        high,
        emphasis: cluster.cases < low || cluster.cases > high,
      };
    }),
  };
}

/** The design effects together, and each outcome by the rank of its clusters. */
export function charts(numbers: ClustersDifferNumbers): Chart[] {
  const shown = worded(numbers).filter((one) => one.tails.places <= mostClustersDrawn);
  const reading = (subject: string): Reading => {
    const own = numbers.findings.filter((one) => one.subject === subject).map((one) => one.reading);
    return own.includes("doubt") ? "doubt" : own.includes("explain") ? "explain" : "expected";
  };
  const effects: Chart = {
    id: "clusters-differ-design-effects",
    kind: "intervals",
    title: message("checks.clusters-differ.chart.effects-title"),
    alternative: finding(numbers),
    x: { label: message("checks.clusters-differ.chart.effects-axis"), unit: "ratio" },
    lines: [
      { at: 1, label: message("checks.clusters-differ.chart.chance") },
      { at: numbers.ordinaryRatio, label: message("checks.clusters-differ.chart.ordinary") },
    ],
    rows: [
      ...numbers.dispersions.map((one) => ({
        group: message("checks.clusters-differ.chart.cases"),
        label: message(`checks.clusters-differ.subject.${one.outcome}`),
        value: one.tails.ratio,
        low: one.ratioLow,
        high: one.ratioHigh,
        n: one.n,
        reading: reading(one.outcome),
      })),
      ...numbers.alikeness.map(({ index, intraclass: found }) => ({
        group: message("checks.clusters-differ.chart.means"),
        label: message(`index.${index}`),
        value: found.designEffect,
        low: found.designEffectInterval.low,
        high: found.designEffectInterval.high,
        n: found.n,
        reading: reading(index),
      })),
    ],
  };
  return [effects, ...shown.map((one) => rankChart(one, outcomeMeaning(one)))];
}

/** The same numbers as tables. */
export function tables(numbers: ClustersDifferNumbers): Table[] {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.clusters-differ.table.${id}`),
    unit,
  });
  const cases: Table = {
    id: "clusters-differ",
    caption: message("checks.clusters-differ.table.caption"),
    columns: [
      column("outcome", "text"),
      column("n", "count"),
      column("cases", "count"),
      column("ratio", "ratio"),
      column("ratio-low", "ratio"),
      column("ratio-high", "ratio"),
      column("clumped", "probability"),
      column("even", "probability"),
      column("variance-to-mean", "ratio"),
      column("green", "index"),
    ],
    rows: numbers.dispersions.map((one) => [
      message(`checks.clusters-differ.subject.${one.outcome}`),
      one.n,
      one.cases,
      one.tails.ratio,
      one.ratioLow,
      one.ratioHigh,
      one.tails.probabilityAbove(1),
      one.tails.probabilityEven,
      one.varianceToMean,
      one.greenIndex,
    ]),
  };
  const means: Table = {
    id: "clusters-differ-means",
    caption: message("checks.clusters-differ.table.means-caption"),
    columns: [
      column("index", "text"),
      column("n", "count"),
      column("correlation", "index"),
      column("correlation-low", "index"),
      column("correlation-high", "index"),
      column("design-effect", "ratio"),
    ],
    rows: numbers.alikeness.map(({ index, intraclass: found }) => [
      message(`index.${index}`),
      found.n,
      found.estimate,
      found.interval.low,
      found.interval.high,
      found.designEffect,
    ]),
  };
  return [cases, means].filter((table) => table.rows.length > 0);
}
