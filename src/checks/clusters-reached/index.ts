/** Clusters that were drawn but not reached: who lives there is not in the survey, and the places hardest to reach are often the worst off. */
import type { PlannedCluster } from "../../columns/sample-plan.js";
import { noChildren } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { Message, Quantity, Reading } from "../../results/schema.js";
import type { Check } from "../check.js";
import {
  byStratum,
  type Coverage,
  type CoverageLimits,
  coverageOf,
  coverageVariant,
  firstLabels,
  type ReadCoverage,
  readCoverage,
} from "../shared/coverage.js";
import { coverageChart, coverageTable, type DrawnCoverage } from "../shared/coverage-drawing.js";
import { mostSerious } from "../shared/reading.js";

/**
 * Own judgement, no pass mark was found in print: one planned cluster in ten that was not reached needs a reason, one in
 * four can hide a prevalence several points higher or lower. A cluster visited in its place does not make up for it.
 */
const limits: CoverageLimits = { explain: 0.1, doubt: 0.25 };

interface ClusterCoverage extends Coverage {
  /** Clusters held in reserve that are in the data. */
  readonly replacements: number;
}

export interface ClustersReachedNumbers {
  readonly overall: ReadCoverage<ClusterCoverage>;
  readonly strata: readonly ReadCoverage<ClusterCoverage>[];
  /** Labels of planned clusters without a row, as far as they may be printed. */
  readonly notReached: readonly string[];
  /** Clusters held in reserve, used or not. */
  readonly reserve: number;
  /** Clusters of the data that the plan does not have, and their rows. */
  readonly unplanned: { readonly count: number; readonly rows: number; readonly labels: readonly string[] };
  /** Share of the frame's households in planned clusters that live in clusters not reached; NaN where the list has no frame. */
  readonly frameLost: number;
}

function coverageIn(stratum: string | null, clusters: readonly PlannedCluster[], stratumLimits: CoverageLimits) {
  const planned = clusters.filter(({ replacement }) => !replacement);
  const reached = planned.filter(({ rows }) => rows > 0).length;
  const replacements = clusters.filter(({ replacement, rows }) => replacement && rows > 0).length;
  const coverage = { ...coverageOf(stratum, planned.length, reached), replacements };
  return { ...coverage, reading: readCoverage(coverage, stratumLimits) };
}

/** Share of the frame's households lost; NaN where the list leaves the frame of any planned cluster open. */
function frameLost(clusters: readonly PlannedCluster[]): number {
  const planned = clusters.filter(({ replacement }) => !replacement);
  const sum = (some: readonly PlannedCluster[]) => some.reduce((all, one) => all + one.householdsInFrame, 0);
  const all = sum(planned);
  return all > 0 ? sum(planned.filter(({ rows }) => rows === 0)) / all : Number.NaN;
}

function judge({ overall, strata, unplanned }: ClustersReachedNumbers): Reading {
  const inStrata = strata.map(({ reading }) => reading);
  return mostSerious([overall.reading, ...inStrata, unplanned.count > 0 ? "explain" : "expected"]);
}

function valuesOf(numbers: ClustersReachedNumbers): Message["values"] {
  const { overall, unplanned, notReached } = numbers;
  const strata = numbers.strata.filter(({ reading }) => reading === "explain");
  return {
    planned: overall.planned,
    reached: overall.reached,
    lost: overall.planned - overall.reached,
    share: overall.share,
    low: overall.interval.low,
    high: overall.interval.high,
    replacements: overall.replacements,
    reserve: numbers.reserve,
    unplanned: unplanned.count,
    rows: unplanned.rows,
    unplannedLabels: [...unplanned.labels],
    labels: [...notReached],
    strata: strata.flatMap(({ stratum }) => stratum ?? []),
    count: strata.length,
    frameLost: Number.isNaN(numbers.frameLost) ? 0 : numbers.frameLost,
  };
}

function meaningOf(numbers: ClustersReachedNumbers, values: Message["values"]): Message[] {
  const { overall, unplanned, notReached } = numbers;
  const lost = overall.planned - overall.reached;
  const say = (id: string): Message => message(`checks.clusters-reached.meaning.${id}`, values);
  return [
    say("numbers"),
    ...(notReached.length > 0 ? [say("which")] : []),
    ...(lost > 0 && !Number.isNaN(numbers.frameLost) ? [say("frame")] : []),
    ...(numbers.reserve > 0 ? [say("replacements")] : []),
    ...(unplanned.count > 0 ? [say("unplanned")] : []),
    ...(unplanned.labels.length > 0 ? [say("unplanned-which")] : []),
    say(lost > 0 ? "lost" : "complete"),
  ];
}

function causesOf(numbers: ClustersReachedNumbers): Message[] {
  const lost = numbers.overall.planned > numbers.overall.reached;
  const causes = [...(lost ? ["access", "file"] : []), ...(numbers.unplanned.count > 0 ? ["code", "unrecorded"] : [])];
  return causes.map((cause) => message(`checks.clusters-reached.cause.${cause}`));
}

function drawn(numbers: ClustersReachedNumbers): DrawnCoverage<ClusterCoverage> {
  return {
    id: "clusters-reached",
    words: "checks.clusters-reached.drawn",
    overall: numbers.overall,
    strata: numbers.strata,
    values: valuesOf(numbers),
    more: [{ id: "replacements", of: ({ replacements }) => replacements }],
  };
}

export const clustersReached: Check<ClustersReachedNumbers> = {
  id: "clusters-reached",
  section: "who",
  needs: [],
  sources: ["clopper-pearson-1934", "own-coverage-limits"],

  compute({ children }) {
    const plan = children.plan ?? null;
    if (plan === null || !plan.clustersKnown) return { cannotTell: message("checks.clusters-reached.no-plan") };
    const { clusters, unplanned } = plan;
    if (clusters.every(({ replacement }) => replacement))
      return { cannotTell: message("checks.clusters-reached.all-reserve") };
    // In one stratum of few clusters a single one is a large share: there only the larger limit needs explaining.
    const ofStratum: CoverageLimits = { explain: limits.doubt, doubt: Number.POSITIVE_INFINITY };
    const missed = clusters.filter(({ replacement, rows }) => !replacement && rows === 0);
    return {
      overall: coverageIn(null, clusters, limits),
      strata: byStratum(clusters).map(([stratum, own]) => coverageIn(stratum, own, ofStratum)),
      notReached: firstLabels(missed.map(({ label }) => label)),
      reserve: clusters.filter(({ replacement }) => replacement).length,
      unplanned: {
        count: unplanned.length,
        rows: unplanned.reduce((sum, { rows }) => sum + rows, 0),
        labels: firstLabels(unplanned.map(({ label }) => label)),
      },
      frameLost: frameLost(clusters),
    };
  },

  judge,

  quantities(numbers) {
    const { overall, unplanned } = numbers;
    const frame: Quantity[] = Number.isNaN(numbers.frameLost)
      ? []
      : [{ id: "frame-not-reached", of: noChildren, unit: "share", value: numbers.frameLost }];
    return [
      { id: "clusters-reached", of: noChildren, unit: "share", value: overall.share, interval: overall.interval },
      { id: "clusters-planned", of: noChildren, unit: "count", value: overall.planned },
      { id: "clusters-not-reached", of: noChildren, unit: "count", value: overall.planned - overall.reached },
      { id: "clusters-replaced", of: noChildren, unit: "count", value: overall.replacements },
      { id: "clusters-unplanned", of: noChildren, unit: "count", value: unplanned.count },
      ...frame,
    ];
  },

  say(numbers, reading) {
    const values = valuesOf(numbers);
    const unusual = reading !== "expected";
    const actions = numbers.unplanned.count > 0 ? ["lost", "codes"] : ["lost"];
    return {
      finding: message(`checks.clusters-reached.finding.${coverageVariant(numbers, reading, "unplanned")}`, values),
      meaning: meaningOf(numbers, values),
      causes: unusual ? causesOf(numbers) : [],
      actions: unusual ? actions.map((action) => message(`checks.clusters-reached.action.${action}`, values)) : [],
      method: [
        message("checks.clusters-reached.method.count"),
        message("checks.clusters-reached.method.size", { explain: limits.explain, doubt: limits.doubt }),
      ],
    };
  },

  charts: (numbers) => (numbers.strata.length === 0 ? [] : [coverageChart(drawn(numbers))]),
  tables: (numbers) => [coverageTable(drawn(numbers))],
};
