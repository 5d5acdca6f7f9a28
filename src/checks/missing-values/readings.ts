import type { GroupId } from "../../results/group.js";
import type { Interval, Reading } from "../../results/schema.js";
import { mostSerious, readGroupsTogether, type SizeLimits } from "../shared/reading.js";
import type { GroupShare } from "../shared/shares.js";
import type { GapDifference } from "./gap-differences.js";

/**
 * Own judgement, no pass mark was found in print: more than 5 in 100 values missing need a reason, more than 15 in 100 can hide
 * a prevalence several points higher or lower. The lower end of the interval must lie above 2 and 5 in 100 as well, so that a
 * few children say nothing.
 */
export const shareLimits = { explain: { share: 0.05, low: 0.02 }, doubt: { share: 0.15, low: 0.05 } } as const;

/** The same in a team over the other teams, and between the groups of children compared: own judgement. */
export const differenceLimits: SizeLimits = { explain: 0.05, doubt: 0.15 };

/** A share of the children with its interval. */
export interface CountedShare {
  readonly of: GroupId;
  readonly n: number;
  readonly cases: number;
  readonly share: number;
  readonly interval: Interval;
}

interface RoleGaps extends CountedShare {
  readonly role: string;
  /** False where the value is only one of several ways to know the same thing. */
  readonly needed: boolean;
  /** Of those who lack it, the number whose value was set aside as impossible. */
  readonly setAside: number;
  readonly reading: Reading;
}

interface ReadDifference extends GapDifference {
  readonly adjustedProbability: number;
  readonly reading: Reading;
}

/** All numbers of the check. */
export interface MissingValuesNumbers {
  readonly children: number;
  readonly roles: readonly RoleGaps[];
  /** Children who lack at least one value needed. */
  readonly any: CountedShare;
  /** Children with everything an index needs. */
  readonly ready: readonly (CountedShare & { readonly index: string })[];
  /** Whether children without a weight or height differ from the others. */
  readonly differences: readonly ReadDifference[];
  readonly teams: readonly GroupShare[];
}

/** The reading of a share missing: its size and the lower end of its interval. */
export function readShare({ share, interval }: CountedShare): Reading {
  const beyond = (limits: { readonly share: number; readonly low: number }) =>
    share > limits.share && interval.low > limits.low;
  if (beyond(shareLimits.doubt)) return "doubt";
  return beyond(shareLimits.explain) ? "explain" : "expected";
}

function overallReading(numbers: MissingValuesNumbers): Reading {
  return mostSerious([
    ...numbers.roles.filter(({ needed }) => needed).map(({ reading }) => reading),
    ...numbers.differences.map(({ reading }) => reading),
  ]);
}

/** The most serious of the whole and of the teams. */
export function judge(numbers: MissingValuesNumbers): Reading {
  return mostSerious([overallReading(numbers), readGroupsTogether(numbers.teams, numbers.children)]);
}

/** Values set aside as impossible, of all roles. */
export function setAsideIn(numbers: MissingValuesNumbers): number {
  return numbers.roles.reduce((sum, { setAside }) => sum + setAside, 0);
}

/** The needed role with the largest share missing. */
export function worstOf(numbers: MissingValuesNumbers): RoleGaps {
  const needed = numbers.roles.filter((role) => role.needed);
  return needed.reduce((worst, role) => (role.share > worst.share ? role : worst));
}
