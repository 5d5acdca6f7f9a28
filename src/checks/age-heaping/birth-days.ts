import type { Children } from "../../derive/children.js";
import type { GroupId } from "../../results/group.js";
import { goodnessOfFit } from "../../stats/goodness-of-fit.js";
import type { CheckInput } from "../check.js";
import type { Clustering } from "../shared/clustering.js";
import { type ShareAgainst, shareAgainst } from "../shared/shares.js";
import { dayOfMonth } from "./heaping.js";

/** Days of the month on which children were born, against the calendar. */
export interface BirthDays {
  /** The children whose age comes from two dates. */
  readonly of: GroupId;
  readonly n: number;
  /** Shares of days 1 to 31. */
  readonly shares: readonly number[];
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  /** NaN with fewer than five expected on some day. */
  readonly probability: number;
  readonly dissimilarity: number;
  readonly dissimilarityByChance: number;
  /** The day with the largest surplus. */
  readonly topDay: number;
}

/** Share of days that are the 1st, 2nd ... 31st in the four years of the calendar's cycle, 1461 days: computed. */
export const calendarShares: readonly number[] = Array.from(
  { length: 31 },
  (_, i) => (i < 28 ? 48 : i === 28 ? 45 : i === 29 ? 44 : 28) / 1461,
);

/** Cochran's rule: about five expected in every category. */
const fewestExpected = 5;

/** Days of birth among children whose age comes from two dates; null where no child has a birth date. */
export function birthDaysOf({ children, book }: Pick<CheckInput, "children" | "book">): BirthDays | null {
  const { birthDay, ageSource } = children;
  if (birthDay === null) return null;
  const counts = new Array<number>(31).fill(0);
  birthDay.forEach((day, i) => {
    if (ageSource[i] !== 1 || Number.isNaN(day)) return;
    const index = dayOfMonth(day) - 1;
    counts[index] = (counts[index] as number) + 1;
  });
  const { n, chiSquare, degreesOfFreedom, probability } = goodnessOfFit(counts, calendarShares);
  if (n === 0) return null;
  const inDomain = birthDay.map((day, i) => (ageSource[i] === 1 && !Number.isNaN(day) ? 1 : 0));
  const shares = counts.map((count) => count / n);
  const gaps = shares.map((share, i) => share - (calendarShares[i] as number));
  return {
    of: book.subject("age-heaping/birth-day", Uint8Array.from(inDomain)).whole,
    n,
    shares,
    chiSquare,
    degreesOfFreedom,
    probability: n * Math.min(...calendarShares) >= fewestExpected ? probability : Number.NaN,
    dissimilarity: gaps.reduce((sum, gap) => sum + Math.abs(gap), 0) / 2,
    // Mean absolute value of a normal deviate is sqrt(2 / pi) standard deviations.
    dissimilarityByChance: calendarShares.reduce((sum, p) => sum + Math.sqrt((2 * p * (1 - p)) / (Math.PI * n)), 0) / 2,
    topDay: gaps.indexOf(Math.max(...gaps)) + 1,
  };
}

/** 1 for a child born on the same day of the month as it was visited; `inDomain` where both dates are known. */
export function sameDayOfMonth({ count, birthDay, interviewDay, ageSource }: Children): {
  readonly isSame: Uint8Array;
  readonly inDomain: Uint8Array;
} {
  const isSame = new Uint8Array(count);
  const inDomain = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    const born = dayOfMonth(birthDay?.[i] ?? Number.NaN);
    const seen = dayOfMonth(interviewDay?.[i] ?? Number.NaN);
    if (ageSource[i] !== 1 || Number.isNaN(born) || Number.isNaN(seen)) continue;
    inDomain[i] = 1;
    if (born === seen) isSame[i] = 1;
  }
  return { isSame, inDomain };
}

/** The share of such children against the 12 in 365.25 that the calendar gives. */
export function sameDayShare(isSame: Uint8Array, inDomain: Uint8Array, clustering: Clustering): ShareAgainst {
  const n = inDomain.reduce((sum, inside) => sum + inside, 0);
  const cases = isSame.reduce((sum, same) => sum + same, 0);
  return shareAgainst(cases, n, 12 / 365.25, clustering);
}
