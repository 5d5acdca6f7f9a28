import { message } from "../results/message.js";
import type { Chart, Message, Quantity, Reading, Table } from "../results/schema.js";
import { holm } from "../stats/holm.js";
import type { Check, Said } from "./check.js";
import { alikeness, dispersions, fewestCases, type IndexAlikeness, type OutcomeDispersion } from "./cluster-cases.js";

/**
 * Whether cases fall into clusters as places that differ a little would have them. Clumped cases are often real, yet can
 * be one cluster measured badly; cases spread more evenly than drawing lots would do are unusual and need follow-up.
 */

/** What one component of the check found. */
export interface ClusterFinding {
  readonly subject: string;
  readonly kind: "even" | "clumped";
  readonly ratio: number;
  /** After Holm's control over all components of the check. */
  readonly adjustedProbability: number;
  readonly reading: Reading;
}

export interface ClustersDifferNumbers {
  readonly clusters: number;
  readonly children: number;
  readonly meanSize: number;
  readonly dispersions: readonly OutcomeDispersion[];
  readonly alikeness: readonly IndexAlikeness[];
  /** The ratio beyond which clumping is read; see `ordinaryRatio`. */
  readonly ordinaryRatio: number;
  readonly findings: readonly ClusterFinding[];
}

/** Fewer clusters than this say nothing about how clusters differ. Judgement. */
const fewestClusters = 8;
/** Median design effects of all three indicators lay below 2 in 380 surveys: Hulland et al. 2016, confirmed. */
const ordinaryAt25 = 2;
/** Clusters larger than 25 children are let clump in proportion (same intracluster correlation). Judgement. */
const correlationAt25 = (ordinaryAt25 - 1) / 24;
/** Practical size of too even: at least three tenths below what chance alone gives; half of it for doubt. Judgement. */
const evenExplain = 0.7;
const evenDoubt = 0.5;
/** Clumping twice as strong again as the ordinary ratio: then few clusters carry the prevalence. Judgement. */
const clumpedDoubtTimes = 2;

function ordinaryRatio(meanSize: number): number {
  return Math.max(ordinaryAt25, 1 + (meanSize - 1) * correlationAt25);
}

/** Every component in one family: even cases, even means, clumped cases. */
function findingsOf(
  cases: readonly OutcomeDispersion[],
  means: readonly IndexAlikeness[],
  ordinary: number,
): ClusterFinding[] {
  const components = [
    ...cases.map((one) => ({
      subject: one.outcome as string,
      kind: "even" as const,
      ratio: one.tails.ratio,
      probability: one.tails.probabilityEven,
      strong: 1,
    })),
    ...means.map((one) => ({
      subject: one.index as string,
      kind: "even" as const,
      ratio: one.intraclass.f,
      probability: one.intraclass.probabilityEven,
      strong: 1,
    })),
    ...cases.map((one) => ({
      subject: one.outcome as string,
      kind: "clumped" as const,
      ratio: one.tails.ratio,
      probability: one.tails.probabilityAbove(ordinary),
      strong: one.tails.probabilityAbove(ordinary * clumpedDoubtTimes),
    })),
  ];
  const adjusted = holm(components.map((component) => component.probability));
  return components.map(({ subject, kind, ratio, strong }, i) => {
    const adjustedProbability = adjusted[i] ?? Number.NaN;
    const doubt = adjustedProbability < 0.001 && (kind === "even" ? ratio <= evenDoubt : strong < 0.001);
    const explain = adjustedProbability < 0.05 && (kind === "clumped" || ratio <= evenExplain);
    return { subject, kind, ratio, adjustedProbability, reading: doubt ? "doubt" : explain ? "explain" : "expected" };
  });
}

function noticed(numbers: ClustersDifferNumbers, kind: ClusterFinding["kind"]): readonly ClusterFinding[] {
  return numbers.findings.filter((finding) => finding.kind === kind && finding.reading !== "expected");
}

function subjects(findings: readonly ClusterFinding[]): Message[] {
  return findings.map((finding) => message(`checks.clusters-differ.subject.${finding.subject}`));
}

function judge(numbers: ClustersDifferNumbers): Reading {
  if (numbers.findings.some((finding) => finding.reading === "doubt")) return "doubt";
  return numbers.findings.some((finding) => finding.reading === "explain") ? "explain" : "expected";
}

function findingKind(numbers: ClustersDifferNumbers): "expected" | "even" | "clumped" | "both" {
  const even = noticed(numbers, "even").length > 0;
  const clumped = noticed(numbers, "clumped").length > 0;
  if (even && clumped) return "both";
  return even ? "even" : clumped ? "clumped" : "expected";
}

function finding(numbers: ClustersDifferNumbers): Message {
  const even = noticed(numbers, "even");
  const clumped = noticed(numbers, "clumped");
  return message(`checks.clusters-differ.finding.${findingKind(numbers)}`, {
    clusters: numbers.clusters,
    children: numbers.children,
    even: subjects(even),
    clumped: subjects(clumped),
    lowest: Math.min(...numbers.findings.map((one) => one.ratio)),
    highest: Math.max(...numbers.findings.map((one) => one.ratio)),
    evenRatio: Math.min(1, ...even.map((one) => one.ratio)),
    clumpedRatio: Math.max(1, ...clumped.map((one) => one.ratio)),
    ordinary: numbers.ordinaryRatio,
  });
}

function outcomeMeaning(one: OutcomeDispersion): Message {
  return message("checks.clusters-differ.meaning.outcome", {
    outcome: message(`checks.clusters-differ.subject.${one.outcome}`),
    cases: one.cases,
    n: one.n,
    clusters: one.tails.places,
    ratio: one.tails.ratio,
    low: one.ratioLow,
    high: one.ratioHigh,
    chanceLow: one.tails.chanceLow,
    chanceHigh: one.tails.chanceHigh,
  });
}

/** Acute malnutrition with oedema says again what wasting does: where both are there, words and pictures show the first. */
function worded(numbers: ClustersDifferNumbers): readonly OutcomeDispersion[] {
  const both = numbers.dispersions.some((one) => one.outcome === "acute-malnutrition-by-weight-for-height");
  return numbers.dispersions.filter((one) => !(both && one.outcome === "wasting"));
}

function say(numbers: ClustersDifferNumbers, reading: Reading): Said {
  const told = (part: string): Message =>
    message(`checks.clusters-differ.${part}`, {
      clusters: numbers.clusters,
      meanSize: numbers.meanSize,
      ordinary: numbers.ordinaryRatio,
      fewestCases,
    });
  const even = noticed(numbers, "even").length > 0;
  const clumped = noticed(numbers, "clumped").length > 0;
  return {
    finding: finding(numbers),
    meaning: [
      ...worded(numbers).map(outcomeMeaning),
      ...numbers.alikeness.slice(0, 1).map(({ intraclass, index }) =>
        message("checks.clusters-differ.meaning.intracluster", {
          index: message(`index.${index}`),
          estimate: intraclass.estimate,
          low: intraclass.interval.low,
          high: intraclass.interval.high,
          designEffect: intraclass.designEffect,
        }),
      ),
      ...(clumped ? [told("meaning.clumped")] : []),
      ...(even ? [told("meaning.even")] : []),
      ...(reading === "expected" ? [told("meaning.not-proof")] : []),
      ...(numbers.clusters < 20 ? [told("meaning.few-clusters")] : []),
    ],
    causes: [
      ...(clumped ? [told("cause.places"), told("cause.one-team")] : []),
      ...(even ? [told("cause.selection"), told("cause.chosen-clusters"), told("cause.entry")] : []),
    ],
    actions: [...(clumped ? [told("action.look-at-high")] : []), ...(even ? [told("action.trace-clusters")] : [])],
    method: [
      told("method.heterogeneity"),
      told("method.intracluster"),
      told("method.trade-names"),
      told("method.reading"),
      told("method.teams"),
    ],
  };
}

function quantities(numbers: ClustersDifferNumbers): Quantity[] {
  const ofOutcome = numbers.dispersions.flatMap((one): Quantity[] => [
    {
      id: `case-dispersion-${one.outcome}`,
      unit: "ratio",
      value: one.tails.ratio,
      n: one.n,
      interval: { low: one.ratioLow, high: one.ratioHigh, level: 0.95 },
      chance: { expected: 1, low: one.tails.chanceLow, high: one.tails.chanceHigh },
      probability: one.tails.probabilityAbove(1),
    },
    { id: `case-evenness-${one.outcome}`, unit: "probability", value: one.tails.probabilityEven, n: one.n },
    {
      id: `variance-to-mean-${one.outcome}`,
      unit: "ratio",
      value: one.varianceToMean,
      n: one.n,
      chance: { expected: 1 },
    },
    { id: `green-index-${one.outcome}`, unit: "index", value: one.greenIndex, n: one.n, chance: { expected: 0 } },
  ]);
  const ofIndex = numbers.alikeness.flatMap(({ index, intraclass: found }): Quantity[] => [
    {
      id: `intracluster-correlation-${index}`,
      unit: "index",
      value: found.estimate,
      n: found.n,
      interval: found.interval,
      chance: { expected: 0, low: found.chanceLow, high: found.chanceHigh },
      probability: found.probability,
    },
    {
      id: `mean-design-effect-${index}`,
      unit: "ratio",
      value: found.designEffect,
      n: found.n,
      interval: found.designEffectInterval,
      chance: { expected: 1 },
    },
  ]);
  return [...ofOutcome, ...ofIndex];
}

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

function charts(numbers: ClustersDifferNumbers): Chart[] {
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

function tables(numbers: ClustersDifferNumbers): Table[] {
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

export const clustersDiffer: Check<ClustersDifferNumbers> = {
  id: "clusters-differ",
  section: "where",
  needs: ["cluster", "any-index"],
  sources: ["cochran-1954", "green-1966", "intraclass-searle", "hulland-2016", "kaiser-2006", "holm-1979"],
  compute: ({ children }) => {
    const cluster = children.cluster;
    if (cluster === null)
      return {
        cannotTell: message("checks.clusters-differ.unknown.few-clusters", { clusters: 0, fewest: fewestClusters }),
      };
    const sizes = new Map<number, number>();
    for (const code of cluster.codes) if (code >= 0) sizes.set(code, (sizes.get(code) ?? 0) + 1);
    if (sizes.size < fewestClusters) {
      return {
        cannotTell: message("checks.clusters-differ.unknown.few-clusters", {
          clusters: sizes.size,
          fewest: fewestClusters,
        }),
      };
    }
    const cases = dispersions(children, cluster.codes, cluster.labels.length);
    const means = alikeness(children, cluster.codes, cluster.labels.length);
    if (cases.length === 0 && means.length === 0)
      return { cannotTell: message("checks.clusters-differ.unknown.no-pattern") };
    const inClusters = [...sizes.values()].reduce((sum, size) => sum + size, 0);
    const ordinary = ordinaryRatio(inClusters / sizes.size);
    return {
      clusters: sizes.size,
      children: inClusters,
      meanSize: inClusters / sizes.size,
      dispersions: cases,
      alikeness: means,
      ordinaryRatio: ordinary,
      findings: findingsOf(cases, means, ordinary),
    };
  },
  judge,
  quantities,
  say,
  charts,
  tables,
};
