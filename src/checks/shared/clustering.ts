import type { Children } from "../../derive/children.js";
import { estimateProportion } from "../../stats/design/proportion.js";
import { makeDesign, type SurveyDesign } from "../../stats/design/survey-design.js";

/** How much less a clustered sample says than the same number of children drawn one by one. */
export interface Clustering {
  /** Variance under the design over the variance of a simple random sample; never below 1 here (see below). */
  readonly designEffect: number;
  /** Clusters less strata; children less one where there are no clusters. */
  readonly degreesOfFreedom: number;
}

/**
 * The design of the measured children as such: every child counts once, since a check is about the measurements that
 * were made and not about the population. Children without a cluster code form one cluster of their own in each
 * stratum, and those without a stratum code a stratum. Null where the survey has no clusters.
 */
export function measurementDesign(children: Children): SurveyDesign | null {
  const { count, cluster, stratum } = children;
  if (cluster === null) return null;
  const known = designs.get(children);
  if (known !== undefined) return known;
  const design = makeDesign({
    count,
    cluster: cluster.codes.map((code) => (code < 0 ? cluster.labels.length : code)),
    stratum: stratum?.codes.map((code) => (code < 0 ? stratum.labels.length : code)) ?? null,
    weight: null,
  });
  designs.set(children, design);
  return design;
}

/** Designs already made: several checks and their parts ask for that of the same children. */
const designs = new WeakMap<Children, SurveyDesign>();

/**
 * Design effect of a share among the children of a domain. Values below 1 are taken as 1: with a few dozen clusters an
 * estimate below 1 is mostly luck, and a check must not find more than a simple random sample would. Without clusters,
 * with one cluster only, or where the share is 0 or 1, it is 1.
 */
export function clusteringOf(design: SurveyDesign | null, isCase: Uint8Array, inDomain: Uint8Array): Clustering {
  const n = inDomain.reduce((sum, inside) => sum + inside, 0);
  const simple = { designEffect: 1, degreesOfFreedom: Math.max(1, n - 1) };
  if (design === null) return simple;
  const { designEffect, degreesOfFreedom } = estimateProportion(design, isCase, inDomain);
  // One cluster a stratum says nothing about how clusters differ.
  return degreesOfFreedom < 1 ? simple : { designEffect: atLeastOne(designEffect), degreesOfFreedom };
}

/** The value, or 1 where it is less or could not be computed. */
function atLeastOne(value: number): number {
  return Number.isNaN(value) ? 1 : Math.max(1, value);
}
