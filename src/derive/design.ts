import type { CodedColumn } from "../columns/survey.js";
import type { SurveySettings } from "../settings/settings.js";
import { makeDesign, type SurveyDesign } from "../stats/design/survey-design.js";
import type { Children } from "./children.js";

const several = -2;

/** For every cluster label, the one stratum its rows name; -1 where none does, `several` where they disagree. */
function stratumOfClusters(cluster: CodedColumn, stratum: CodedColumn): Int32Array {
  const of = new Int32Array(cluster.labels.length).fill(-1);
  for (let i = 0; i < cluster.codes.length; i++) {
    const at = cluster.codes[i] as number;
    const code = stratum.codes[i] as number;
    if (at < 0 || code < 0) continue;
    of[at] = of[at] === -1 || of[at] === code ? code : several;
  }
  return of;
}

/** Stratum label of every child, -1 where it can't be told: its own, else that of the other children of its cluster. */
function stratumLabels(cluster: CodedColumn | null, stratum: CodedColumn): Int32Array {
  if (cluster === null || !stratum.codes.includes(-1)) return stratum.codes;
  const ofCluster = stratumOfClusters(cluster, stratum);
  return stratum.codes.map((code, i) => {
    if (code >= 0) return code;
    const inferred = ofCluster[cluster.codes[i] as number] ?? -1;
    return inferred === several ? -1 : inferred;
  });
}

/** Strata numbered from 0, those without a child left out. */
interface Strata {
  readonly codes: Int32Array;
  /** Label of each; -1 for the children whose stratum can't be told. */
  readonly labels: readonly number[];
}

function strataOf({ cluster, stratum }: Children): Strata | null {
  if (stratum === null) return null;
  const ofChild = stratumLabels(cluster, stratum);
  const labels = [...new Set(ofChild)].sort((a, b) => (a < 0 ? 1 : b < 0 ? -1 : a - b));
  const numbers = new Map(labels.map((label, number) => [label, number]));
  return { codes: ofChild.map((label) => numbers.get(label) as number), labels };
}

/**
 * Weights that bring each stratum to its part of the population: N_h / n_h over N / n, with N_h the children of the
 * population in stratum h and n_h those measured there, so that they average 1. They take every child of a stratum to have
 * had the same chance of being drawn. NaN where a child's stratum can't be told or its population is not given.
 */
export function stratumWeights(
  cluster: CodedColumn | null,
  stratum: CodedColumn,
  population: Readonly<Record<string, number>>,
): Float64Array {
  const ofChild = stratumLabels(cluster, stratum);
  const counts = new Map<number, number>();
  for (const label of ofChild) if (label >= 0) counts.set(label, (counts.get(label) ?? 0) + 1);
  const sizeOf = (label: number): number => population[stratum.labels[label] ?? ""] ?? Number.NaN;
  let children = 0;
  let total = 0;
  for (const [label, count] of counts) {
    if (Number.isNaN(sizeOf(label))) continue;
    children += count;
    total += sizeOf(label);
  }
  return Float64Array.from(ofChild, (label) => (sizeOf(label) / (counts.get(label) ?? 0)) * (children / total));
}

/** Cluster codes, with one code more for the children whose cluster is missing. */
function clusterCodes(cluster: CodedColumn): Int32Array {
  return cluster.codes.map((code) => (code < 0 ? cluster.labels.length : code));
}

/**
 * Clusters in the population, one number a stratum; NaN, which means no correction, where it was not given. Without
 * strata the only number given holds. Where children without a cluster make one more, it is counted here as well.
 */
function populationOf(
  children: Children,
  strata: Strata | null,
  given: Readonly<Record<string, number>>,
): Float64Array {
  const values = Object.values(given);
  const only = values.length === 1 ? values : [Number.NaN];
  const byLabel = strata?.labels.map((at) => given[children.stratum?.labels[at] ?? ""]);
  const sizes = Float64Array.from(byLabel ?? only, (size) => size ?? Number.NaN);
  const withMissing = new Set<number>();
  children.cluster?.codes.forEach((code, i) => {
    if (code < 0) withMissing.add(strata?.codes[i] ?? 0);
  });
  return sizes.map((size, stratum) => (withMissing.has(stratum) ? size + 1 : size));
}

/**
 * Children of each child's cluster in the population: as given, by stratum; else the stratum's children over its clusters,
 * where both are given. NaN where neither is. An average over clusters of unlike sizes takes the second stage as less
 * complete than it was, so that the variance is too large rather than too small.
 */
function membersOf(children: Children, strata: Strata | null, settings: SurveySettings): Float64Array | null {
  const { childrenPerCluster: given, childrenInPopulation: all, clustersInPopulation: clusters } = settings;
  if (given === undefined && all === undefined) return null;
  const sizeOf = (label: string): number =>
    given?.[label] ?? (all?.[label] ?? Number.NaN) / (clusters?.[label] ?? Number.NaN);
  const values = Object.values(given ?? {});
  const only = values.length === 1 ? (values[0] as number) : Number.NaN;
  if (strata === null) return new Float64Array(children.count).fill(only);
  const sizes = strata.labels.map((at) => sizeOf(children.stratum?.labels[at] ?? ""));
  const whole = given?.all ?? Number.NaN;
  return Float64Array.from(strata.codes, (code) => (Number.isNaN(sizes[code]) ? whole : (sizes[code] as number)));
}

/** Designs already made: every estimate asks for that of the same children. */
const known = new WeakMap<Children, WeakMap<SurveySettings, SurveyDesign>>();

function makeDesignOf(children: Children, settings: SurveySettings): SurveyDesign {
  const strata = strataOf(children);
  const given = settings.clustersInPopulation;
  return makeDesign({
    count: children.count,
    cluster: children.cluster === null ? null : clusterCodes(children.cluster),
    stratum: strata?.codes ?? null,
    weight: children.samplingWeight,
    clustersInPopulation: given === null ? null : populationOf(children, strata, given),
    membersInPopulation: membersOf(children, strata, settings),
  });
}

/**
 * The sampling design of the children.
 *
 * - No cluster column: each child is its own cluster (simple random sample). Where the column is there but a child's
 *   cell is empty, all such children of a stratum share one cluster, so that gaps never add degrees of freedom.
 * - Clusters lie within strata: the same cluster label in two strata is two clusters.
 * - No stratum column: one stratum. An empty cell takes the stratum that the rest of its cluster names; where that
 *   can't be told, such children share a stratum of their own. A stratum without children is no stratum.
 * - No weight column: every child weighs 1. A child whose weight is missing or not positive counts nowhere.
 * - Clusters in the population, and children in a cluster of the population, are given by stratum label.
 *
 * Made once for the same children and settings.
 */
export function designOf(children: Children, settings: SurveySettings): SurveyDesign {
  const ofChildren = known.get(children) ?? new WeakMap<SurveySettings, SurveyDesign>();
  known.set(children, ofChildren);
  const design = ofChildren.get(settings) ?? makeDesignOf(children, settings);
  ofChildren.set(settings, design);
  return design;
}
