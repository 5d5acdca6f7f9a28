import type { CodedColumn } from "../../columns/survey.js";
import type { Subject } from "../../disclosure/book.js";
import type { GroupId } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { GroupReading, Interval, Message, Quantity, Reading, Unit } from "../../results/schema.js";
import { binomialTest, wilson } from "../../stats/binomial.js";
import { studentQuantile, studentTwoSided } from "../../stats/student-t.js";
import type { Clustering } from "./clustering.js";
import { groupsOf } from "./groups.js";
import { readDeparture, type SizeLimits } from "./reading.js";
import { partOf, type Told } from "./told.js";

/** A share with its interval, what it was expected to be, and how surprising it is. */
export interface ShareAgainst {
  readonly n: number;
  readonly cases: number;
  /** NaN when n is 0, like all that follow. */
  readonly share: number;
  readonly interval: Interval;
  readonly expected: number;
  /** Limits that 95 in 100 such samples fall within when the expectation is true. */
  readonly chance: { readonly low: number; readonly high: number };
  /** Two-sided. */
  readonly probability: number;
}

/** The Wilson interval of a share on the effective number of children, n / design effect. */
export function shareInterval(cases: number, n: number, designEffect: number): Interval {
  if (n === 0) return { low: Number.NaN, high: Number.NaN, level: 0.95 };
  const { low, high, level } = wilson(cases / designEffect, n / designEffect);
  return { low, high, level };
}

/**
 * A share against an expected one. The probability is the larger of two: the exact binomial test, and the test of
 * t = (p - p0) / sqrt(p0 (1 - p0) designEffect / n) on the design's degrees of freedom. The first holds for small
 * numbers, the second for children who resemble each other within clusters; the larger is safe in both cases.
 */
export function shareAgainst(cases: number, n: number, expected: number, clustering: Clustering): ShareAgainst {
  const { designEffect, degreesOfFreedom } = clustering;
  const interval = shareInterval(cases, n, designEffect);
  if (n === 0 || !(expected > 0 && expected < 1)) {
    const none = Number.NaN;
    return {
      n,
      cases,
      share: n === 0 ? none : cases / n,
      interval,
      expected,
      chance: { low: none, high: none },
      probability: none,
    };
  }
  const share = cases / n;
  const standardError = Math.sqrt((expected * (1 - expected) * designEffect) / n);
  const half = studentQuantile(0.975, degreesOfFreedom) * standardError;
  return {
    n,
    cases,
    share,
    interval,
    expected,
    chance: { low: Math.max(0, expected - half), high: Math.min(1, expected + half) },
    probability: Math.max(
      binomialTest(cases, n, expected),
      studentTwoSided((share - expected) / standardError, degreesOfFreedom),
    ),
  };
}

/** The children of one group who are in question, and how many of them are cases. */
export interface GroupCount {
  readonly by: string;
  readonly label: string;
  readonly n: number;
  readonly cases: number;
  /** Null where nothing may be told of the group. */
  readonly of: GroupId | null;
}

/** Counts by the groups of a column; fewer than two groups are no comparison and give none. */
export function countGroups(
  by: string,
  column: CodedColumn | null,
  isCase: Uint8Array,
  inDomain: Uint8Array,
  subject: Subject,
): GroupCount[] {
  const groups = groupsOf(column);
  if (column === null || groups.length < 2) return [];
  return groups.map(({ label, code, members }) => {
    let n = 0;
    let cases = 0;
    for (const child of members) {
      if (inDomain[child] !== 1) continue;
      n++;
      if (isCase[child] === 1) cases++;
    }
    return { by, label, n, cases, of: partOf(subject, by, column, { code, label }) };
  });
}

/** One group of a check, tested and read. */
export interface GroupShare extends ShareAgainst {
  readonly by: string;
  readonly label: string;
  /** Null where nothing may be told of the group. */
  readonly of: GroupId | null;
  /** NaN where the group is too small to be tested. */
  readonly adjustedProbability: number;
  readonly reading: Reading;
}

/** A group against a fixed expectation; the probability is NaN, so never read, where the group must be kept back. */
export function groupAgainst(group: GroupCount, expected: number, clustering: Clustering): GroupCount & ShareAgainst {
  const tested = shareAgainst(group.cases, group.n, expected, clustering);
  return { ...group, ...tested, probability: group.of === null ? Number.NaN : tested.probability };
}

/**
 * A group against the other groups. Given the cases of all groups together, this group's would by chance be a share
 * n / N of them: tested as such, so that the others' own chance is counted too. `expected` is the others' share.
 */
export function groupAgainstOthers(
  group: GroupCount,
  all: readonly GroupCount[],
  clustering: Clustering,
): GroupCount & ShareAgainst {
  const children = all.reduce((sum, other) => sum + other.n, 0);
  const cases = all.reduce((sum, other) => sum + other.cases, 0);
  const others = children > group.n ? (cases - group.cases) / (children - group.n) : Number.NaN;
  const tested = shareAgainst(group.cases, group.n, others, clustering);
  const compared =
    cases > 0 && children > 0
      ? shareAgainst(group.cases, cases, group.n / children, clustering).probability
      : Number.NaN;
  const probability = cases === 0 ? 1 : compared;
  return {
    ...group,
    ...tested,
    probability: group.of === null || Number.isNaN(others) ? Number.NaN : probability,
  };
}

/** Reads each group of a family on its adjusted probability and its size. */
export function readGroups<Tested extends GroupCount & ShareAgainst>(
  groups: readonly Tested[],
  adjusted: readonly number[],
  size: (group: Tested) => number,
  limits: SizeLimits,
): (Tested & GroupShare)[] {
  return groups.map((group, i) => {
    const adjustedProbability = adjusted[i] ?? Number.NaN;
    return { ...group, adjustedProbability, reading: readDeparture(adjustedProbability, size(group), limits) };
  });
}

/** Leaves a number out where it could not be computed. */
export function known<Key extends string>(key: Key, value: number): { [K in Key]?: number } {
  return Number.isFinite(value) ? ({ [key]: value } as { [K in Key]?: number }) : {};
}

/** A value of results.json, or null with the reason that nobody was there to count. */
export function valueOrReason(value: number): Pick<Quantity, "value" | "reason"> {
  return Number.isFinite(value) ? { value } : { value: null, reason: message("checks.who.nobody") };
}

/** A share as a quantity of results.json; anything that could not be computed is left out. */
export function shareQuantity(id: string, tested: ShareAgainst, of: GroupId, unit: Unit = "share"): Quantity {
  return {
    id,
    of,
    unit,
    ...valueOrReason(tested.share),
    n: tested.n,
    ...(Number.isFinite(tested.interval.low) ? { interval: tested.interval } : {}),
    chance: {
      ...known("expected", tested.expected),
      ...known("low", tested.chance.low),
      ...known("high", tested.chance.high),
    },
    ...known("probability", tested.probability),
  };
}

/** A tested group as it stands in results.json. */
export function groupReading(group: Told<GroupShare>, quantities: readonly Quantity[]): GroupReading {
  return {
    by: group.by,
    label: group.label,
    n: group.n,
    of: group.of,
    reading: group.reading,
    quantities: [...quantities],
    ...known("adjustedProbability", group.adjustedProbability),
  };
}

/** A tested group with its share and interval; without them where nobody in it was in question. */
export function groupShareReading(id: string, group: Told<GroupShare>): GroupReading {
  const { share, n, interval, of } = group;
  return groupReading(group, n === 0 ? [] : [{ id, of, unit: "share", value: share, n, interval }]);
}

/** One part for each of the other, from its share: p / (1 - p). Infinite where there is no other. */
export function oneToOther(share: number): number {
  return share / (1 - share);
}

/**
 * A share told as a ratio of one part to the other (boys for each girl), with interval and chance limits turned likewise; a
 * limit without a finite ratio is left out. `noOther` says why there is none where the whole is of one part.
 */
export function ratioQuantity(
  id: string,
  tested: ShareAgainst,
  of: GroupId,
  { expectedRatio, noOther }: { readonly expectedRatio: number; readonly noOther: Message },
): Quantity {
  const { low, high, level } = tested.interval;
  return {
    id,
    of,
    unit: "ratio",
    ...(tested.share === 1 ? { value: null, reason: noOther } : valueOrReason(oneToOther(tested.share))),
    n: tested.n,
    ...(high < 1 ? { interval: { low: oneToOther(low), high: oneToOther(high), level } } : {}),
    chance: {
      expected: expectedRatio,
      low: oneToOther(tested.chance.low),
      ...known("high", oneToOther(tested.chance.high)),
    },
    probability: tested.probability,
  };
}
