import { message } from "../../results/message.js";
import type { Quantity, Reading } from "../../results/schema.js";
import type { Check } from "../check.js";
import { alikeness, dispersions } from "./cluster-cases.js";
import { type ClustersDifferNumbers, findingsOf, ordinaryRatio } from "./cluster-findings.js";
import { charts, tables } from "./drawing.js";
import { say } from "./words.js";

/** Fewer clusters than this say nothing about how clusters differ. Judgement. */
const fewestClusters = 8;

function judge(numbers: ClustersDifferNumbers): Reading {
  if (numbers.findings.some((finding) => finding.reading === "doubt")) return "doubt";
  return numbers.findings.some((finding) => finding.reading === "explain") ? "explain" : "expected";
}

function quantities(numbers: ClustersDifferNumbers): Quantity[] {
  const ofOutcome = numbers.dispersions.flatMap((one): Quantity[] => [
    {
      id: `case-dispersion-${one.outcome}`,
      of: one.of,
      unit: "ratio",
      value: one.tails.ratio,
      n: one.n,
      interval: { low: one.ratioLow, high: one.ratioHigh, level: 0.95 },
      chance: { expected: 1, low: one.tails.chanceLow, high: one.tails.chanceHigh },
      probability: one.tails.probabilityAbove(1),
    },
    { id: `case-evenness-${one.outcome}`, of: one.of, unit: "probability", value: one.tails.probabilityEven, n: one.n },
    {
      id: `variance-to-mean-${one.outcome}`,
      of: one.of,
      unit: "ratio",
      value: one.varianceToMean,
      n: one.n,
      chance: { expected: 1 },
    },
    {
      id: `green-index-${one.outcome}`,
      of: one.of,
      unit: "index",
      value: one.greenIndex,
      n: one.n,
      chance: { expected: 0 },
    },
  ]);
  const ofIndex = numbers.alikeness.flatMap(({ index, of, intraclass: found }): Quantity[] => [
    {
      id: `intracluster-correlation-${index}`,
      of,
      unit: "index",
      value: found.estimate,
      n: found.n,
      interval: found.interval,
      chance: { expected: 0, low: found.chanceLow, high: found.chanceHigh },
      probability: found.probability,
    },
    {
      id: `mean-design-effect-${index}`,
      of,
      unit: "ratio",
      value: found.designEffect,
      n: found.n,
      interval: found.designEffectInterval,
      chance: { expected: 1 },
    },
  ]);
  return [...ofOutcome, ...ofIndex];
}

/**
 * Whether cases fall into clusters as places that differ a little would have them. Clumped cases are often real, yet can
 * be one cluster measured badly; cases spread more evenly than drawing lots would do are unusual and need follow-up.
 */
export const clustersDiffer: Check<ClustersDifferNumbers> = {
  id: "clusters-differ",
  section: "where",
  needs: ["cluster", "any-index"],
  sources: ["cochran-1954", "green-1966", "intraclass-searle", "hulland-2016", "kaiser-2006", "holm-1979"],
  compute: ({ children, book }) => {
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
    const cases = dispersions({ children, book }, cluster.codes, cluster.labels.length);
    const means = alikeness({ children, book }, cluster.codes, cluster.labels.length);
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
