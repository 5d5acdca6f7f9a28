import type { Children, ExclusionRule } from "../derive/children.js";
import { outcome } from "../derive/outcome.js";
import type { PrevalenceEstimate } from "../estimates/estimate.js";
import { confidenceLevel } from "../stats/confidence.js";
import { proportionInterval } from "../stats/design/interval.js";
import { estimateProportion, type ProportionEstimate } from "../stats/design/proportion.js";
import type { SurveyDesign } from "../stats/design/survey-design.js";
import type { Reestimate, SpeaksOf } from "./scenario.js";

/** What the interval of a share rests on. */
export type ShareParts = Pick<ProportionEstimate, "estimate" | "variance" | "degreesOfFreedom" | "n">;

/** A share with its interval, by the same rule as the main estimates; no interval where it cannot be had. */
export function withInterval(estimate: string, share: ShareParts, speaks: SpeaksOf): Reestimate {
  const { variance, degreesOfFreedom, n } = share;
  const interval = proportionInterval({ ...share, standardError: Math.sqrt(variance) }, confidenceLevel);
  const none = interval.method === "none";
  return {
    estimate,
    value: share.estimate,
    variance,
    degreesOfFreedom,
    n,
    speaks,
    low: none ? null : interval.low,
    high: none ? null : interval.high,
  };
}

/**
 * One prevalence of changed children, with the full survey design: the same outcome, ratio estimator, linearized
 * variance and logit interval as the published one. `only` narrows the children (1 = kept), as a domain of the design.
 */
export function reestimate(
  children: Children,
  design: SurveyDesign,
  estimate: PrevalenceEstimate,
  rule: ExclusionRule,
  only?: Uint8Array,
): Reestimate {
  const { isCase, inDomain } = outcome(children, estimate.outcome, rule);
  const domain = only === undefined ? inDomain : bothMarked(inDomain, only);
  const speaks = { members: domain, isCase, atRandom: false };
  return withInterval(estimate.id, estimateProportion(design, isCase, domain), speaks);
}

/** A re-estimate of changed children: those changed are no longer told of as the file has them. */
export function withChanged(found: Reestimate, isChanged: Uint8Array): Reestimate {
  const members = found.speaks.members.map((inside, i) => inside & (1 - (isChanged[i] as number)));
  return { ...found, speaks: { ...found.speaks, members, isCase: null } };
}

/** 1 where both columns hold 1. */
export function bothMarked(one: Uint8Array, other: Uint8Array): Uint8Array {
  const both = new Uint8Array(one.length);
  for (let i = 0; i < one.length; i++) if (one[i] === 1 && other[i] === 1) both[i] = 1;
  return both;
}
