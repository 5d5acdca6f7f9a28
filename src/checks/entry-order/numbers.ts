import type { GroupId } from "../../results/group.js";
import type { Interval, Reading } from "../../results/schema.js";
import { mostSerious, readGroupsTogether, type SizeLimits } from "../shared/reading.js";
import type { GroupShare } from "../shared/shares.js";
import type { QuickForm } from "./entry-times.js";

/** What can be unusual about the time of a form. */
export const timeKinds = ["quick", "hours", "days"] as const;
export type TimeKind = (typeof timeKinds)[number];

interface Limits {
  readonly share: number;
  /** The lower end of the interval must lie above this as well, so that a few forms say nothing. */
  readonly low: number;
}

/**
 * Own judgement, no published pass mark. Forms that follow each other too soon can mean that children were not measured one by one;
 * the other two say only that times are not those of the interviews, so that they never cast doubt by themselves.
 */
export const shareLimits: Readonly<Record<TimeKind, { readonly explain: Limits; readonly doubt: Limits | null }>> = {
  quick: { explain: { share: 0.05, low: 0.02 }, doubt: { share: 0.25, low: 0.15 } },
  hours: { explain: { share: 0.1, low: 0.05 }, doubt: null },
  days: { explain: { share: 0.1, low: 0.05 }, doubt: null },
};

/** A team's share of forms of an unusual time over the other teams': own judgement. Never in doubt by itself. */
export const teamLimits: SizeLimits = { explain: 0.1, doubt: Number.POSITIVE_INFINITY };

export interface TimeShare {
  readonly of: GroupId;
  readonly kind: TimeKind;
  readonly n: number;
  readonly cases: number;
  readonly share: number;
  readonly interval: Interval;
  readonly reading: Reading;
}

/** All numbers of the check. */
export interface EntryOrderNumbers {
  readonly forms: number;
  /** The times are those of sending. */
  readonly sent: boolean;
  readonly hasTeams: boolean;
  /** A column of its own gives the day of the interview. */
  readonly hasDays: boolean;
  readonly shares: readonly TimeShare[];
  readonly early: number;
  readonly teams: readonly GroupShare[];
  readonly quick: readonly QuickForm[];
}

/** The reading of a share: its size and the lower end of its interval. */
export function readTimeShare(kind: TimeKind, share: number, interval: Interval): Reading {
  const { explain, doubt } = shareLimits[kind];
  const beyond = (limits: Limits): boolean => share > limits.share && interval.low > limits.low;
  if (doubt !== null && beyond(doubt)) return "doubt";
  return beyond(explain) ? "explain" : "expected";
}

/** The most serious of the whole and of the teams. */
export function judge(numbers: EntryOrderNumbers): Reading {
  const overall = mostSerious(numbers.shares.map(({ reading }) => reading));
  return mostSerious([overall, readGroupsTogether(numbers.teams, numbers.forms)]);
}
