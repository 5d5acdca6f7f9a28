import { message } from "../../results/message.js";
import type { Message, Reading } from "../../results/schema.js";
import type { Said } from "../check.js";
import { fewestCases, type OutcomeDispersion } from "./cluster-cases.js";
import type { ClusterFinding, ClustersDifferNumbers } from "./cluster-findings.js";

function noticed(numbers: ClustersDifferNumbers, kind: ClusterFinding["kind"]): readonly ClusterFinding[] {
  return numbers.findings.filter((finding) => finding.kind === kind && finding.reading !== "expected");
}

function subjects(findings: readonly ClusterFinding[]): Message[] {
  return findings.map((finding) => message(`checks.clusters-differ.subject.${finding.subject}`));
}

function findingKind(numbers: ClustersDifferNumbers): "expected" | "even" | "clumped" | "both" {
  const even = noticed(numbers, "even").length > 0;
  const clumped = noticed(numbers, "clumped").length > 0;
  if (even && clumped) return "both";
  return even ? "even" : clumped ? "clumped" : "expected";
}

/** The finding, with the ratios it rests on. */
export function finding(numbers: ClustersDifferNumbers): Message {
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

/** One outcome in a sentence. */
export function outcomeMeaning(one: OutcomeDispersion): Message {
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
export function worded(numbers: ClustersDifferNumbers): readonly OutcomeDispersion[] {
  const both = numbers.dispersions.some((one) => one.outcome === "acute-malnutrition-by-weight-for-height");
  return numbers.dispersions.filter((one) => !(both && one.outcome === "wasting"));
}

/** Everything the check says. */
export function say(numbers: ClustersDifferNumbers, reading: Reading): Said {
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
