/** Households that were planned but not reached: the families who are away or refuse are seldom like the others. */
import type { PlannedCluster } from "../../columns/sample-plan.js";
import { noChildren } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { Message, Reading } from "../../results/schema.js";
import type { CannotTell, Check } from "../check.js";
import {
  byStratum,
  type Coverage,
  type CoverageLimits,
  coverageOf,
  coverageVariant,
  firstLabels,
  type ReadCoverage,
  reachedClusters,
  readCoverage,
} from "../shared/coverage.js";
import { coverageChart, coverageTable, type DrawnCoverage } from "../shared/coverage-drawing.js";
import { mostSerious } from "../shared/reading.js";

/**
 * Own judgement, no pass mark was found in print: one planned household in ten that was not reached needs a reason, one in
 * four can hide a prevalence several points higher or lower.
 */
const limits: CoverageLimits = { explain: 0.1, doubt: 0.25 };
/** More households than planned, as a share of those planned, from which the plan or the numbering needs a look: own judgement. */
const excessLimit = 0.1;
/** A cluster with fewer of its households than this is named: own judgement. */
const poorCluster = 0.5;

interface HouseholdCoverage extends Coverage {
  readonly clusters: number;
  /** Households reached beyond those planned, cluster by cluster; they do not make up for those missed elsewhere. */
  readonly beyond: number;
}

export interface HouseholdsReachedNumbers {
  readonly overall: ReadCoverage<HouseholdCoverage>;
  readonly strata: readonly ReadCoverage<HouseholdCoverage>[];
  /** Variance of the share between clusters over that of independent households; 1 or more. */
  readonly designEffect: number;
  /** Planned households of planned clusters that were not reached at all. */
  readonly inLostClusters: number;
  /** Clusters in which fewer than half of the households were reached. */
  readonly poor: { readonly count: number; readonly labels: readonly string[] };
  readonly from: "list" | "data";
}

/** A reached cluster with both numbers of households. */
interface Counted {
  readonly cluster: PlannedCluster;
  readonly planned: number;
  /** Of those planned. */
  readonly reached: number;
  readonly beyond: number;
}

function countedIn(clusters: readonly PlannedCluster[]): Counted[] {
  return clusters.flatMap((cluster) => {
    const { plannedHouseholds: planned, reachedHouseholds } = cluster;
    if (!(planned > 0) || Number.isNaN(reachedHouseholds)) return [];
    const reached = Math.min(planned, reachedHouseholds);
    return [{ cluster, planned, reached, beyond: reachedHouseholds - reached }];
  });
}

function sum(counted: readonly Counted[], of: "planned" | "reached" | "beyond"): number {
  return counted.reduce((all, one) => all + one[of], 0);
}

/**
 * Design effect of the share reached, p = sum(r) / sum(h), with clusters as the units:
 * C / (C - 1) * sum((r - p h)^2) / H^2 over p (1 - p) / H. Values below 1 are taken as 1.
 */
function designEffectOf(counted: readonly Counted[]): number {
  const planned = sum(counted, "planned");
  const share = sum(counted, "reached") / planned;
  const independent = (share * (1 - share)) / planned;
  if (counted.length < 2 || !(independent > 0)) return 1;
  const squares = counted.reduce((all, one) => all + (one.reached - share * one.planned) ** 2, 0);
  const clustered = (counted.length / (counted.length - 1)) * (squares / planned ** 2);
  return Math.max(1, clustered / independent);
}

function coverageIn(stratum: string | null, counted: readonly Counted[], designEffect: number, own: CoverageLimits) {
  const coverage = {
    ...coverageOf(stratum, sum(counted, "planned"), sum(counted, "reached"), designEffect),
    clusters: counted.length,
    beyond: sum(counted, "beyond"),
  };
  return { ...coverage, reading: readCoverage(coverage, own) };
}

function excess({ beyond, planned }: HouseholdCoverage): Reading {
  return beyond >= excessLimit * planned ? "explain" : "expected";
}

function judge({ overall, strata }: HouseholdsReachedNumbers): Reading {
  return mostSerious([overall.reading, ...strata.map(({ reading }) => reading), excess(overall)]);
}

function valuesOf({ overall, strata, poor, inLostClusters }: HouseholdsReachedNumbers): Message["values"] {
  const noticed = strata.filter(({ reading }) => reading === "explain");
  return {
    planned: overall.planned,
    reached: overall.reached,
    missed: overall.planned - overall.reached,
    lost: 1 - overall.share,
    share: overall.share,
    low: overall.interval.low,
    high: overall.interval.high,
    clusters: overall.clusters,
    beyond: overall.beyond,
    poor: poor.count,
    labels: [...poor.labels],
    inLostClusters,
    strata: noticed.flatMap(({ stratum }) => stratum ?? []),
    count: noticed.length,
  };
}

function drawn(numbers: HouseholdsReachedNumbers): DrawnCoverage<HouseholdCoverage> {
  return {
    id: "households-reached",
    words: "checks.households-reached.drawn",
    overall: numbers.overall,
    strata: numbers.strata,
    values: valuesOf(numbers),
    more: [
      { id: "clusters", of: ({ clusters }) => clusters },
      { id: "beyond", of: ({ beyond }) => beyond },
    ],
  };
}

function cannotTell(id: string, values: Message["values"] = {}): CannotTell {
  return { cannotTell: message(`checks.households-reached.${id}`, values) };
}

export const householdsReached: Check<HouseholdsReachedNumbers> = {
  id: "households-reached",
  section: "who",
  needs: [],
  sources: ["clopper-pearson-1934", "own-coverage-limits"],

  compute({ children }) {
    const plan = children.plan ?? null;
    if (plan === null || !plan.clusters.some(({ plannedHouseholds }) => plannedHouseholds > 0))
      return cannotTell("no-plan");
    if (plan.householdsFrom === "nothing") return cannotTell("not-counted");
    const counted = countedIn(reachedClusters(plan));
    const planned = sum(counted, "planned");
    if (counted.length === 0) return cannotTell("none-known");
    if (plan.householdsFrom === "data" && !plan.plannedHaveChildren)
      return cannotTell("children-only", { reached: sum(counted, "reached"), planned });
    const designEffect = designEffectOf(counted);
    const ofStratum: CoverageLimits = { explain: limits.doubt, doubt: Number.POSITIVE_INFINITY };
    const poor = counted.filter((one) => one.reached < poorCluster * one.planned);
    const lost = plan.clusters.filter(({ replacement, rows }) => !replacement && rows === 0);
    return {
      overall: coverageIn(null, counted, designEffect, limits),
      strata: byStratum(counted.map(({ cluster }) => cluster)).map(([stratum, own]) =>
        coverageIn(stratum, countedIn(own), designEffect, ofStratum),
      ),
      designEffect,
      inLostClusters: lost.reduce((all, { plannedHouseholds: own }) => all + (Number.isNaN(own) ? 0 : own), 0),
      poor: { count: poor.length, labels: firstLabels(poor.map(({ cluster }) => cluster.label)) },
      from: plan.householdsFrom,
    };
  },

  judge,

  quantities: ({ overall, designEffect, inLostClusters, poor }) => [
    { id: "households-reached", of: noChildren, unit: "share", value: overall.share, interval: overall.interval },
    { id: "households-planned", of: noChildren, unit: "count", value: overall.planned },
    { id: "households-beyond-plan", of: noChildren, unit: "count", value: overall.beyond },
    { id: "households-in-lost-clusters", of: noChildren, unit: "count", value: inLostClusters },
    { id: "clusters-half-reached", of: noChildren, unit: "count", value: poor.count },
    { id: "households-design-effect", of: noChildren, unit: "ratio", value: designEffect },
  ],

  say(numbers, reading) {
    const values = valuesOf(numbers);
    const unusual = reading !== "expected";
    const say = (id: string): Message => message(`checks.households-reached.meaning.${id}`, values);
    return {
      finding: message(`checks.households-reached.finding.${coverageVariant(numbers, reading, "beyond")}`, values),
      meaning: [
        say("numbers"),
        ...(numbers.poor.labels.length > 0 ? [say("poor")] : []),
        ...(numbers.inLostClusters > 0 ? [say("lost-clusters")] : []),
        ...(numbers.overall.beyond > 0 ? [say("beyond")] : []),
        say(unusual ? "unusual" : "expected"),
      ],
      causes: unusual
        ? ["away", "refused", "numbering", "plan"].map((cause) => message(`checks.households-reached.cause.${cause}`))
        : [],
      actions: unusual ? ["forms", "state"].map((action) => message(`checks.households-reached.action.${action}`)) : [],
      method: [
        message(`checks.households-reached.method.${numbers.from}`),
        message("checks.households-reached.method.interval", { designEffect: numbers.designEffect }),
        message("checks.households-reached.method.size", { ...limits, excess: excessLimit }),
      ],
    };
  },

  charts: (numbers) => (numbers.strata.length === 0 ? [] : [coverageChart(drawn(numbers))]),
  tables: (numbers) => [coverageTable(drawn(numbers))],
};
