import { message } from "../../results/message.js";
import type { Chart, Message, Reading, Table } from "../../results/schema.js";
import { withholdBelow } from "../../results/withhold-below.js";
import { upperNormal } from "../../stats/confidence.js";
import type { OutcomeDispersion } from "./cluster-cases.js";
import type { ClustersDifferNumbers } from "./cluster-findings.js";
import { finding, outcomeMeaning, worded } from "./words.js";

/** Clusters by the number of their cases, against drawing lots. */
interface CaseBin {
  readonly from: number;
  /** Infinite for the last. */
  readonly to: number;
  readonly share: number;
  readonly expected: number;
  readonly low: number;
  readonly high: number;
}

/** P(X = k) for all k up to n, X binomial, by the ratio of neighbours. */
function masses(n: number, p: number): number[] {
  const found = [(1 - p) ** n];
  for (let k = 1; k <= n; k++) found.push(((found[k - 1] as number) * (n - k + 1) * p) / (k * (1 - p)));
  return found;
}

/**
 * Clusters counted by their cases. Numbers of cases that few clusters have are taken together, until every bar holds two
 * clusters and 25 children: a bar of one cluster would tell of its few children.
 */
function caseBins({ clusters, share }: OutcomeDispersion): CaseBin[] {
  const most = Math.max(...clusters.map(({ cases }) => cases));
  const chances = clusters.map(({ children }) => masses(children, share));
  const bins: CaseBin[] = [];
  let from = 0;
  const enough = (held: OutcomeDispersion["clusters"]): boolean =>
    held.length > 1 && held.reduce((sum, { children }) => sum + children, 0) >= withholdBelow;
  for (let to = 0; to <= most; to++) {
    const rest = clusters.filter(({ cases }) => cases > to);
    const last = !enough(rest);
    if (!last && !enough(clusters.filter(({ cases }) => cases >= from && cases <= to))) continue;
    const upTo = last ? Number.POSITIVE_INFINITY : to;
    const probabilities = chances.map((mass) =>
      Math.min(
        1,
        mass.reduce((sum, chance, k) => (k >= from && k <= upTo ? sum + chance : sum), 0),
      ),
    );
    const mean = probabilities.reduce((sum, p) => sum + p, 0);
    const half = upperNormal * Math.sqrt(probabilities.reduce((sum, p) => sum + p * (1 - p), 0));
    const seen = clusters.filter(({ cases }) => cases >= from && cases <= upTo).length;
    const all = clusters.length;
    bins.push({
      from,
      to: upTo,
      share: seen / all,
      expected: mean / all,
      low: Math.max(0, mean - half) / all,
      high: Math.min(all, mean + half) / all,
    });
    from = to + 1;
    if (last) break;
  }
  return bins;
}

function binName(from: number, to: number): Message {
  const words = "checks.clusters-differ.chart.bin";
  if (to === Number.POSITIVE_INFINITY) return message(`${words}.above`, { from });
  return to === from ? message(`${words}.one`, { from }) : message(`${words}.between`, { from, to });
}

function caseChart(shown: readonly OutcomeDispersion[], alternative: Message): Chart {
  return {
    id: "clusters-differ-cases",
    kind: "category-shares",
    title: message("checks.clusters-differ.chart.cases-title"),
    alternative,
    x: { label: message("checks.clusters-differ.chart.cases-axis") },
    panels: shown.map((one) => ({
      label: message(`checks.clusters-differ.subject.${one.outcome}`),
      n: one.n,
      of: one.of,
      bars: caseBins(one).map(({ from, to, ...rest }) => ({
        category: binName(from, to),
        ...rest,
      })),
    })),
  };
}

/** The design effects together, and each outcome by the rank of its clusters. */
export function charts(numbers: ClustersDifferNumbers): Chart[] {
  const shown = worded(numbers);
  const reading = (subject: string): Reading => {
    const own = numbers.findings.filter((one) => one.subject === subject).map((one) => one.reading);
    return own.includes("doubt") ? "doubt" : own.includes("explain") ? "explain" : "expected";
  };
  const common = {
    kind: "intervals",
    alternative: finding(numbers),
    x: { label: message("checks.clusters-differ.chart.effects-axis"), unit: "ratio" },
  } as const;
  const chance = { at: 1, label: message("checks.clusters-differ.chart.chance") };
  const cases: Chart = {
    ...common,
    id: "clusters-differ-cases-effects",
    title: message("checks.clusters-differ.chart.cases-effects-title"),
    lines: [chance, { at: numbers.ordinaryRatio, label: message("checks.clusters-differ.chart.ordinary") }],
    rows: numbers.dispersions.map((one) => ({
      label: message(`checks.clusters-differ.subject.${one.outcome}`),
      value: one.tails.ratio,
      low: one.ratioLow,
      high: one.ratioHigh,
      n: one.n,
      of: one.of,
      reading: reading(one.outcome),
    })),
  };
  // Means of clusters that differ are ordinary: only means that are too alike are read, so no upper end is marked.
  const means: Chart = {
    ...common,
    id: "clusters-differ-means-effects",
    title: message("checks.clusters-differ.chart.means-effects-title"),
    lines: [chance],
    rows: numbers.alikeness.map(({ index, of, intraclass: found }) => ({
      label: message(`index.${index}`),
      value: found.designEffect,
      low: found.designEffectInterval.low,
      high: found.designEffectInterval.high,
      n: found.n,
      of,
      reading: reading(index),
    })),
  };
  const [first] = shown;
  const effects = [cases, means].filter((chart) => chart.kind === "intervals" && chart.rows.length > 0);
  return first === undefined ? effects : [...effects, caseChart(shown, outcomeMeaning(first))];
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
    of: numbers.dispersions.map(({ of }) => of),
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
    of: numbers.alikeness.map(({ of }) => of),
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
