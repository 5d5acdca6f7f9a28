import type { PlannedCluster, SamplePlan } from "../../columns/sample-plan.js";
import type { Interval, Reading } from "../../results/schema.js";
import { clopperPearson } from "../../stats/binomial.js";

/** What was reached of what was planned, in the whole survey or a stratum of it. */
export interface Coverage {
  /** Stratum as the plan names it; null for the whole survey. */
  readonly stratum: string | null;
  readonly planned: number;
  readonly reached: number;
  /** NaN, like the limits of the interval, where nothing was planned. */
  readonly share: number;
  readonly interval: Interval;
}

/** A coverage with its reading. */
export type ReadCoverage<Counted extends Coverage> = Counted & { readonly reading: Reading };

/**
 * The share reached with the exact binomial interval of Clopper and Pearson on the effective number, planned / design
 * effect.
 */
export function coverageOf(stratum: string | null, planned: number, reached: number, designEffect = 1): Coverage {
  const share = planned === 0 ? Number.NaN : reached / planned;
  return { stratum, planned, reached, share, interval: clopperPearson(reached / designEffect, planned / designEffect) };
}

/** From which share not reached a coverage needs explaining, and from which it casts doubt. */
export interface CoverageLimits {
  readonly explain: number;
  readonly doubt: number;
}

/** The reading of the share not reached; it must lie above the limit, and rounding noise is no excess. */
export function readCoverage({ share }: Coverage, limits: CoverageLimits): Reading {
  if (Number.isNaN(share)) return "unknown";
  const lost = 1 - share + 1e-9;
  if (lost >= limits.doubt) return "doubt";
  return lost >= limits.explain ? "explain" : "expected";
}

/** The plan's clusters by stratum, in the order of the plan; none where the plan has fewer than two strata. */
export function byStratum(clusters: readonly PlannedCluster[]): [string, PlannedCluster[]][] {
  const strata = new Map<string, PlannedCluster[]>();
  for (const cluster of clusters) {
    if (cluster.stratum === null) continue;
    const known = strata.get(cluster.stratum);
    if (known === undefined) strata.set(cluster.stratum, [cluster]);
    else known.push(cluster);
  }
  return strata.size < 2 ? [] : [...strata];
}

/** Clusters of the data: those that were reached, planned or held in reserve. */
export function reachedClusters(plan: SamplePlan): PlannedCluster[] {
  return plan.clusters.filter(({ rows }) => rows > 0);
}

/** Names the first of some labels, so that a sentence stays a sentence. */
export function firstLabels(labels: readonly (string | null)[], most = 12): string[] {
  return labels.filter((label) => label !== null).slice(0, most);
}

/** What a coverage's finding is about: the whole, a stratum of it, or else `otherwise`; as expected, just that. */
export function coverageVariant(
  { overall, strata }: { readonly overall: ReadCoverage<Coverage>; readonly strata: readonly ReadCoverage<Coverage>[] },
  reading: Reading,
  otherwise: string,
): string {
  if (reading === "expected" || overall.reading === reading) return reading;
  return strata.some((stratum) => stratum.reading === reading) ? "strata" : otherwise;
}
