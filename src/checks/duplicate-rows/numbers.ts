import type { Children } from "../../derive/children.js";
import type { Subject } from "../../disclosure/book.js";
import type { GroupId } from "../../results/group.js";
import type { Reading } from "../../results/schema.js";
import { poissonUpper } from "../../stats/poisson.js";
import { groupsOf } from "../shared/groups.js";
import type { SizeLimits } from "../shared/reading.js";
import { partOf } from "../shared/told.js";
import type { RowCodes } from "./equal-pairs.js";
import { pairsOf, refine, sizesOf } from "./repeats.js";

/** For a team: one in ten. */
export const teamLimits: SizeLimits = { explain: Number.MIN_VALUE, doubt: 0.1 };

/** Pairs of equal rows in some part of the survey, and the pairs that chance alone gives there. */
export interface Pairs {
  readonly observed: number;
  readonly expected: number;
  /** Poisson probability of as many repeated rows or more, with a margin on the expectation. Three equal rows are two repeats. */
  readonly probability: number;
}

interface TeamRepeats extends Pairs {
  readonly of: GroupId | null;
  readonly label: string;
  readonly n: number;
  /** Rows that repeat an earlier one of the same team. */
  readonly repeats: number;
  readonly adjustedProbability: number;
  readonly reading: Reading;
}

/** All numbers of the check. */
export interface DuplicateRowsNumbers {
  readonly of: GroupId;
  /** Children with sex, age, weight and height: those that can be compared. */
  readonly compared: number;
  readonly withArm: boolean;
  /** Rows that are equal to at least one other. */
  readonly involved: number;
  /** Rows beyond the first of each set of equal rows. */
  readonly repeats: number;
  readonly anywhere: Pairs;
  /** Null without clusters. */
  readonly withinCluster: Pairs | null;
  /** Anywhere, within clusters. */
  readonly adjusted: readonly number[];
  readonly teams: readonly TeamRepeats[];
}

/**
 * How much larger the expectation is taken when a probability is worked out: in simulated surveys with coarsely rounded
 * measures the estimate came out up to a quarter too low (computed), and it has its own chance error.
 */
const safetyMargin = 1.3;

/** Equal pairs somewhere, against what chance gives: `sameAge` are pairs of one sex and month of age there, `everywhere` those of all. */
export function pairsAgainst(all: Int32Array, sameAge: number, everywhere: number, expectedInAll: number): Pairs {
  const observed = pairsOf(all);
  const expected = everywhere === 0 ? 0 : (expectedInAll * sameAge) / everywhere;
  return { observed, expected, probability: poissonUpper(repeatsOf(all).repeats, safetyMargin * expected) };
}

/** The codes of some rows only, numbered afresh so that a small group costs little. */
function among(codes: Int32Array, members: Int32Array): Int32Array {
  const own = members.map((child) => codes[child] as number);
  return refine(
    own.map((code) => (code < 0 ? -1 : 0)),
    own,
  );
}

/** Rows that share everything with another, and how many of them are repeats of an earlier one. */
export function repeatsOf(codes: Int32Array): { readonly involved: number; readonly repeats: number } {
  let [involved, repeats] = [0, 0];
  for (const size of sizesOf(codes)) {
    if (size < 2) continue;
    involved += size;
    repeats += size - 1;
  }
  return { involved, repeats };
}

/** The pairs of equal rows within each team. */
export function teamPairs(
  children: Children,
  { all, sexAndMonth }: RowCodes,
  everywhere: number,
  expectedInAll: number,
  subject: Subject,
): Omit<TeamRepeats, "adjustedProbability" | "reading">[] {
  const { team } = children;
  const groups = groupsOf(team);
  if (team === null || groups.length < 2) return [];
  return groups.map(({ label, code, members }) => {
    const own = among(all, members);
    const n = own.reduce((sum, code) => sum + (code >= 0 ? 1 : 0), 0);
    const sameAge = pairsOf(among(sexAndMonth, members));
    const of = partOf(subject, "team", team, { code, label });
    const pairs = pairsAgainst(own, sameAge, everywhere, expectedInAll);
    const probability = of === null ? Number.NaN : pairs.probability;
    return { label, of, n, repeats: repeatsOf(own).repeats, ...pairs, probability };
  });
}
