import type { Children } from "../../derive/children.js";
import { expendable, type Subject } from "../../disclosure/book.js";
import type { GroupId } from "../../results/group.js";
import type { CheckInput } from "../check.js";
import { type Clustering, clusteringOf, measurementDesign } from "../shared/clustering.js";
import { type AgeExpectation, expectedAgeShares } from "../shared/expected-ages.js";
import { fewestChildren } from "../shared/reading.js";
import {
  countGroups,
  type GroupCount,
  type GroupShare,
  groupAgainst,
  type ShareAgainst,
  shareAgainst,
} from "../shared/shares.js";
import { type BirthDays, sameDayOfMonth, sameDayShare } from "./birth-days.js";
import { excessOf, type MyersOfMonths, markChildren, type Window } from "./heaping.js";

/** Ages on multiples of 12 or 6 months, against the months around them. */
export interface Heap {
  readonly subject: Subject;
  readonly window: Window;
  readonly clustering: Clustering;
  /** Share of the children of the window that stand on a multiple. */
  readonly tested: ShareAgainst;
  /** Children on multiples over those expected from their neighbours; NaN without neighbours. */
  readonly ratio: number;
  /** Children beyond expectation, as a share of all children of 6-59 months. */
  readonly excess: number;
  /** The same ratio against ages spread evenly over the range: R12 or R6. */
  readonly evenRatio: number;
}

/** How one group's ages crowd: on whole years or on half years, whichever shows it more. */
interface Crowding {
  /** Children beyond expectation, as a share of the group's children of 6-59 months. */
  readonly excess: number;
  readonly on: "years" | "half-years";
  /** Children on those multiples over those expected from their neighbours; infinite where no child stands beside one. */
  readonly ratio: number;
}

export interface HeapedGroup extends GroupShare, Crowding {}

type TestedGroup = GroupCount & ShareAgainst & Crowding;

/** One month of age in the picture. */
export interface MonthBar {
  readonly at: number;
  readonly count: number;
  readonly expected: number;
  readonly low: number;
  readonly high: number;
}

/** Whole years among children whose age comes from one source. */
export interface SourceShare {
  readonly of: GroupId;
  readonly id: "dates" | "months";
  readonly tested: ShareAgainst;
}

export interface AgeHeapingNumbers {
  /** The children of 6-59 months; those of all ages in the picture; those of 9-56 months; those with a birth date. */
  readonly of: { readonly ages: GroupId; readonly bars: GroupId; readonly centred: GroupId };
  readonly n: number;
  readonly fromDates: number;
  readonly fromMonths: number;
  readonly years: Heap;
  readonly halfYears: Heap;
  /** Adapted to months: 100 without preference, 600 when all stand on multiples of 6; null where 9-56 months were not all surveyed. */
  readonly whippleOfMonths: ShareAgainst | null;
  readonly myers: MyersOfMonths;
  readonly birthDays: BirthDays | null;
  readonly sameDay: (ShareAgainst & { readonly of: GroupId }) | null;
  /** Of whole years, half years, birth days, same day. */
  readonly adjusted: readonly number[];
  readonly groups: readonly HeapedGroup[];
  /** Whole years among children whose age comes from two dates, and from an age in months. */
  readonly bySource: readonly SourceShare[];
  readonly bars: readonly MonthBar[];
}

function count(marks: Uint8Array): number {
  return marks.reduce((sum, mark) => sum + mark, 0);
}

/** Odds on a multiple against those expected: children found there over those expected from the neighbours. */
export function oddsAgainstExpected(share: number, expected: number): number {
  return (share * (1 - expected)) / ((1 - share) * expected);
}

export function heapOf(
  { children, book }: Pick<CheckInput, "children" | "book">,
  months: Float64Array,
  window: Window,
  { n, range }: { readonly n: number; readonly range: number },
): Heap {
  const isCase = markChildren(months, window.isMultiple);
  const inDomain = markChildren(months, window.inWindow);
  const clustering = clusteringOf(measurementDesign(children), isCase, inDomain);
  const tested = shareAgainst(count(isCase), count(inDomain), window.expected, clustering);
  return {
    subject: book.subject(`age-heaping/${window.step}`, inDomain),
    window,
    clustering,
    tested,
    ratio: oddsAgainstExpected(tested.share, window.expected),
    excess: excessOf(tested.cases, tested.n, window.expected) / n,
    evenRatio: tested.cases / ((n * window.multiples) / range),
  };
}

/** The groups of one column; each is tested on whole and on half years and the smaller probability counts double. */
export function groupsBy(
  by: string,
  column: Children["team"],
  months: Float64Array,
  heaps: readonly [Heap, Heap],
): TestedGroup[] {
  const aged = Uint8Array.from(months, (month) => (month >= 6 && month < 60 ? 1 : 0));
  const sizes = countGroups(by, column, aged, aged, heaps[0].subject);
  const [years, halves] = heaps.map((heap) =>
    countGroups(
      by,
      column,
      markChildren(months, heap.window.isMultiple),
      markChildren(months, heap.window.inWindow),
      heap.subject,
    ).map((group, i) => ({
      ...groupAgainst(group, heap.window.expected, heap.clustering),
      on: heap === heaps[0] ? "years" : "half-years",
      ratio: oddsAgainstExpected(group.cases / group.n, heap.window.expected),
      excess: excessOf(group.cases, group.n, heap.window.expected) / (sizes[i]?.n || 1),
    })),
  ) as [TestedGroup[], TestedGroup[]];
  return years.map((group, i) => {
    const half = halves[i] ?? group;
    return {
      ...group,
      of: half.of === null ? null : group.of,
      probability: Math.min(1, 2 * Math.min(group.probability, half.probability)),
      excess: Math.max(group.excess, half.excess),
      ...(half.ratio > group.ratio ? { on: half.on, ratio: half.ratio } : {}),
    };
  });
}

/** Children by month of age with what the age model gives, as a picture only: the test compares neighbours. */
export function barsOf(months: Float64Array, from: number, to: number, expectations: AgeExpectation): MonthBar[] {
  const counts = new Float64Array(60);
  for (const month of months) if (month >= from && month <= to) counts[month] = (counts[month] as number) + 1;
  const total = counts.reduce((sum, value) => sum + value, 0);
  const shares = expectedAgeShares(
    Array.from({ length: to - from + 2 }, (_, i) => from + i),
    expectations,
  );
  return shares.map((share, i) => {
    const half = 1.959964 * Math.sqrt(total * share * (1 - share));
    return {
      at: from + i,
      count: counts[from + i] as number,
      expected: total * share,
      low: Math.max(0, total * share - half),
      high: total * share + half,
    };
  });
}

export function sourceShares(
  { children, book }: Pick<CheckInput, "children" | "book">,
  months: Float64Array,
  years: Heap,
): SourceShare[] {
  return (
    [
      [1, "dates"],
      [2, "months"],
    ] as const
  ).flatMap(([code, id]) => {
    const own = months.map((month, i) => (children.ageSource[i] === code ? month : Number.NaN));
    const inDomain = markChildren(own, years.window.inWindow);
    const n = count(inDomain);
    if (n < fewestChildren) return [];
    return [
      {
        id,
        of: book.group(`age-heaping/${years.window.step}`, inDomain, `ages from ${id}`, expendable.check),
        tested: shareAgainst(
          count(markChildren(own, years.window.isMultiple)),
          n,
          years.window.expected,
          years.clustering,
        ),
      },
    ];
  });
}

export function sameDayOf({ children, book }: Pick<CheckInput, "children" | "book">): AgeHeapingNumbers["sameDay"] {
  const { isSame, inDomain } = sameDayOfMonth(children);
  if (count(inDomain) < fewestChildren) return null;
  const tested = sameDayShare(isSame, inDomain, clusteringOf(measurementDesign(children), isSame, inDomain));
  return { ...tested, of: book.subject("age-heaping/visit-day", inDomain).whole };
}
