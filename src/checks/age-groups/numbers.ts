import type { Children } from "../../derive/children.js";
import type { Subject } from "../../disclosure/book.js";
import type { GroupId } from "../../results/group.js";
import type { Reading } from "../../results/schema.js";
import { chiSquareUpper } from "../../stats/chi-square.js";
import type { ClusteredFit } from "../../stats/design/clustered-fit.js";
import { goodnessOfFit } from "../../stats/goodness-of-fit.js";
import type { AgeExpectation } from "../shared/expected-ages.js";
import { groupsOf } from "../shared/groups.js";
import type { SizeLimits } from "../shared/reading.js";
import { partOf } from "../shared/told.js";

/**
 * Own judgement, no published pass mark: children in a hundred who would have to be in another age group, beyond what
 * chance alone gives. The growth of births moves the expectation by about 3 in a hundred between 0 and 3% a year
 * (computed), so less than that is not worth a question; at 10 prevalences that change with age move with it.
 */
export const sizeLimits: SizeLimits = { explain: 0.03, doubt: 0.1 };

/** Upper bounds of the usual groups, in months. */
const usualBounds = [0, 6, 12, 24, 36, 48, 60] as const;

/** A group cut to less than this by the survey's age range joins its neighbour. */
const narrowest = 3;

/** Cochran's rule for the chi-square approximation (Biometrics 1954): about five expected in every group. */
export const fewestExpected = 5;

/** How children share out over the age groups, and how surprising that is. */
export interface AgeShares {
  readonly n: number;
  readonly shares: readonly number[];
  readonly chiSquare: number;
  readonly probability: number;
  /** Half the sum of absolute differences from the expected shares. */
  readonly dissimilarity: number;
  /** What chance alone gives on average at this n and design effect. */
  readonly dissimilarityByChance: number;
}

interface TeamAges extends AgeShares {
  readonly label: string;
  readonly of: GroupId | null;
  readonly adjustedProbability: number;
  readonly reading: Reading;
}

/** All numbers of the check. */
export interface AgeGroupsNumbers {
  readonly of: GroupId;
  /** Bounds in months, one more than groups. */
  readonly bounds: readonly number[];
  readonly expectation: AgeExpectation;
  readonly expected: readonly number[];
  readonly fit: ClusteredFit;
  readonly overall: AgeShares;
  readonly adjustedProbability: number;
  readonly teams: readonly TeamAges[];
}

/** Bounds of the groups within the survey's age range (completed months, both inclusive). */
export function boundsWithin(from: number, to: number): number[] {
  const bounds = [...new Set(usualBounds.map((bound) => Math.min(Math.max(bound, from), to + 1)))];
  if (bounds.length > 2 && (bounds[1] as number) - (bounds[0] as number) < narrowest) bounds.splice(1, 1);
  if (bounds.length > 2 && (bounds.at(-1) as number) - (bounds.at(-2) as number) < narrowest) bounds.splice(-2, 1);
  return bounds;
}

/** The age group of every child; -1 where the age is unknown or outside. */
export function groupCodes(children: Children, bounds: readonly number[]): Int32Array {
  const last = bounds.length - 1;
  return Int32Array.from(children.ageMonths, (months) => {
    if (!(months >= (bounds[0] as number) && months < (bounds[last] as number))) return -1;
    let group = 0;
    while (months >= (bounds[group + 1] as number)) group++;
    return group;
  });
}

/** Counts against expected shares, with a chi-square corrected for the design. */
export function agesOf(counts: readonly number[], expected: readonly number[], designEffect: number): AgeShares {
  const { n, chiSquare, degreesOfFreedom } = goodnessOfFit(counts, expected);
  const shares = counts.map((count) => count / n);
  // A share differs from its expectation by sqrt(2 v / pi) on average (mean absolute value of a normal deviate).
  const chance = expected.reduce((sum, p) => sum + Math.sqrt((2 * p * (1 - p) * designEffect) / (Math.PI * n)), 0) / 2;
  return {
    n,
    shares,
    chiSquare,
    probability: chiSquareUpper(chiSquare / designEffect, degreesOfFreedom),
    dissimilarity: shares.reduce((sum, share, k) => sum + Math.abs(share - (expected[k] as number)), 0) / 2,
    dissimilarityByChance: chance,
  };
}

/** Share of the children that would have to move to another group, beyond chance. */
export function sizeOf(ages: AgeShares): number {
  return ages.dissimilarity - ages.dissimilarityByChance;
}

/** The age groups of every team. */
export function teamsOf(
  children: Children,
  codes: Int32Array,
  expected: readonly number[],
  designEffect: number,
  subject: Subject,
): (AgeShares & Pick<TeamAges, "label" | "of">)[] {
  const { team } = children;
  const groups = groupsOf(team);
  if (team === null || groups.length < 2) return [];
  const fewest = fewestExpected / Math.min(...expected);
  return groups.map(({ label, code: own, members }) => {
    const counts = expected.map(() => 0);
    for (const child of members) {
      const code = codes[child] as number;
      if (code >= 0) counts[code] = (counts[code] as number) + 1;
    }
    const ages = agesOf(counts, expected, designEffect);
    const of = partOf(subject, "team", team, { code: own, label });
    return { label, of, ...ages, probability: of !== null && ages.n >= fewest ? ages.probability : Number.NaN };
  });
}
