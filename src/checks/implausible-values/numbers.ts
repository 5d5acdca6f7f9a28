import { type Children, type IndexId, indexIds } from "../../derive/children.js";
import { fixedLimits } from "../../derive/exclusions.js";
import type { Subject } from "../../disclosure/book.js";
import type { GroupId } from "../../results/group.js";
import type { Interval, Reading } from "../../results/schema.js";
import { betaCumulative } from "../../stats/beta.js";
import { clopperPearson } from "../../stats/binomial.js";
import { normalCumulative, normalUpper } from "../../stats/normal.js";
import { poissonQuantile } from "../../stats/poisson.js";
import type { CheckInput } from "../check.js";
import { clusteringOf, measurementDesign } from "../shared/clustering.js";
import { fewestChildren, type SizeLimits } from "../shared/reading.js";
import { countGroups, type GroupShare, shareInterval } from "../shared/shares.js";

/**
 * More than 1 in 100 outside the fixed limits is widely taken as a sign of poor data: given from memory of the 1995
 * technical report and the 2019 recommendations of WHO and UNICEF, not read there. Own judgement: above 5 in 100 the
 * tails, and so the severe forms, cannot be trusted.
 */
export const sizeLimits: SizeLimits = { explain: 0.01, doubt: 0.05 };

/** One child alone never makes a finding. */
export const fewestOutside = 2;

/** How many z-scores of one index lie beyond the limits. */
export interface IndexOutside {
  readonly of: GroupId;
  readonly index: IndexId;
  readonly n: number;
  readonly outside: number;
  readonly share: number;
  readonly interval: Interval;
  /** Share outside if z-scores were normal with the survey's own mean and a standard deviation of 1. */
  readonly expected: number;
  /** Largest share that 95 in 100 such surveys stay within. */
  readonly chanceHigh: number;
  /** P(this many or more) under that. */
  readonly probability: number;
  readonly adjustedProbability: number;
  readonly reading: Reading;
  readonly outsideAroundMean: number;
  readonly expectedAroundMean: number;
}

/** All numbers of the check. */
export interface ImplausibleNumbers {
  readonly of: GroupId;
  readonly indices: readonly IndexOutside[];
  /** Half-width of the limits around the mean. */
  readonly width: number;
  /** Children with a score, and those with at least one outside the fixed limits. */
  readonly scored: number;
  readonly anyOutside: number;
  readonly teams: readonly GroupShare[];
}

/** P(X >= cases) for X binomial; neither number needs to be whole, so that counts can be cut by a design effect. */
function binomialUpper(cases: number, n: number, share: number): number {
  return cases <= 0 ? 1 : betaCumulative(share, cases, n - cases + 1);
}

/** One index against the fixed limits and those around its mean; null where nobody has it. */
export function outsideOf(
  { children, book }: Pick<CheckInput, "children" | "book">,
  index: IndexId,
  width: number,
): IndexOutside | null {
  const { z, outsideFixed, outsideAroundMean, centre } = children.indices[index];
  const limits = fixedLimits[index];
  let [n, outside, around] = [0, 0, 0];
  z.forEach((score, i) => {
    if (Number.isNaN(score)) return;
    n++;
    outside += outsideFixed[i] as number;
    if (outsideFixed[i] === 0) around += outsideAroundMean[i] as number;
  });
  if (n < fewestChildren) return null;
  // With every score outside there is no mean to go by: the standard's own, 0.
  const mean = Number.isNaN(centre) ? 0 : centre;
  const expected = normalCumulative(limits.low - mean) + normalUpper(limits.high - mean);
  const { low, high, level } = clopperPearson(outside, n);
  const inDomain = Uint8Array.from(z, (score) => (Number.isNaN(score) ? 0 : 1));
  return {
    of: book.subject(`implausible/${index}`, inDomain).whole,
    index,
    n,
    outside,
    share: outside / n,
    interval: { low, high, level },
    expected,
    chanceHigh: poissonQuantile(0.95, n * expected) / n,
    probability: binomialUpper(outside, n, expected),
    adjustedProbability: Number.NaN,
    reading: "unknown",
    outsideAroundMean: around,
    expectedAroundMean: 2 * normalUpper(width),
  };
}

/** Children beyond the limits in any index, by team. */
export function teamsOf(
  children: Children,
  expected: number,
  { inDomain, isOutside }: ReturnType<typeof markAny>,
  subject: Subject,
): Omit<GroupShare, "adjustedProbability" | "reading">[] {
  const { designEffect } = clusteringOf(measurementDesign(children), isOutside, inDomain);
  const line = Math.max(expected, sizeLimits.explain);
  return countGroups("team", children.team, isOutside, inDomain, subject).map((group) => ({
    ...group,
    share: group.n === 0 ? Number.NaN : group.cases / group.n,
    interval: shareInterval(group.cases, group.n, designEffect),
    expected,
    chance: { low: 0, high: poissonQuantile(0.95, group.n * line) / group.n },
    probability:
      group.of === null ? Number.NaN : binomialUpper(group.cases / designEffect, group.n / designEffect, line),
  }));
}

/** 1 for children with any z-score, and for those with one beyond the limits. */
export function markAny(children: Children): { readonly inDomain: Uint8Array; readonly isOutside: Uint8Array } {
  const inDomain = new Uint8Array(children.count);
  const isOutside = new Uint8Array(children.count);
  for (const id of indexIds) {
    const { z, outsideFixed } = children.indices[id];
    for (let i = 0; i < children.count; i++) {
      if (Number.isNaN(z[i])) continue;
      inDomain[i] = 1;
      if (outsideFixed[i] === 1) isOutside[i] = 1;
    }
  }
  return { inDomain, isOutside };
}
