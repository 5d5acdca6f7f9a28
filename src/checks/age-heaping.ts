/** Ages that crowd on whole and half years: rounded ages shift height-for-age and weight-for-age, and move children over age limits. */
import type { Children } from "../derive/children.js";
import { message } from "../results/message.js";
import type { Chart, Quantity, Reading } from "../results/schema.js";
import { type BirthDays, birthDaysOf, sameDayOfMonth, sameDayShare } from "./birth-days.js";
import type { Check } from "./check.js";
import { type Clustering, clusteringOf, measurementDesign } from "./clustering.js";
import { expectedAgeShares } from "./expected-ages.js";
import {
  completedMonths,
  excessOf,
  type MyersOfMonths,
  markChildren,
  myersOfMonths,
  type Window,
  windowOf,
} from "./heaping.js";
import { adjustTogether } from "./multiplicity.js";
import { fewestChildren, mostSerious, readDeparture, readGroupsTogether, type SizeLimits } from "./reading.js";
import { type DrawnShares, shareChart, shareTable, unusualLabels } from "./share-drawing.js";
import {
  countGroups,
  type GroupShare,
  groupAgainst,
  groupReading,
  known,
  readGroups,
  type ShareAgainst,
  shareAgainst,
  shareQuantity,
  valueOrReason,
} from "./shares.js";

/**
 * Own judgement, no published pass mark: children in a hundred whose age stands on a multiple beyond what the months
 * around it lead to expect. Three are worth a question; ten mean that height-for-age rests on rounded ages.
 */
const monthLimits: SizeLimits = { explain: 0.03, doubt: 0.1 };
/**
 * Own judgement: share of birth dates that would have to move to another day, beyond chance. A wrong day within the
 * right month shifts an age by two weeks at most, so much more of it is needed before it matters.
 */
const dayLimits: SizeLimits = { explain: 0.05, doubt: 0.3 };

/** Ages on multiples of 12 or 6 months, against the months around them. */
interface Heap {
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

interface HeapedGroup extends GroupShare {
  readonly excess: number;
}

export interface AgeHeapingNumbers {
  readonly n: number;
  readonly fromDates: number;
  readonly fromMonths: number;
  readonly years: Heap;
  readonly halfYears: Heap;
  /** Adapted to months: 100 without preference, 600 when all stand on multiples of 6; null where 9-56 months were not all surveyed. */
  readonly whippleOfMonths: ShareAgainst | null;
  readonly myers: MyersOfMonths;
  readonly birthDays: BirthDays | null;
  readonly sameDay: ShareAgainst | null;
  /** Of whole years, half years, birth days, same day. */
  readonly adjusted: readonly number[];
  readonly groups: readonly HeapedGroup[];
  /** Whole years among children whose age comes from two dates, and from an age in months. */
  readonly bySource: readonly { readonly id: "dates" | "months"; readonly tested: ShareAgainst }[];
  readonly bars: readonly {
    readonly at: number;
    readonly count: number;
    readonly expected: number;
    readonly low: number;
    readonly high: number;
  }[];
}

function count(marks: Uint8Array): number {
  return marks.reduce((sum, mark) => sum + mark, 0);
}

/** Odds on a multiple against those expected: children found there over those expected from the neighbours. */
function ratioOf(share: number, expected: number): number {
  return (share * (1 - expected)) / ((1 - share) * expected);
}

function heapOf(children: Children, months: Float64Array, window: Window, n: number, range: number): Heap {
  const isCase = markChildren(months, window.isMultiple);
  const inDomain = markChildren(months, window.inWindow);
  const clustering = clusteringOf(measurementDesign(children), isCase, inDomain);
  const tested = shareAgainst(count(isCase), count(inDomain), window.expected, clustering);
  return {
    window,
    clustering,
    tested,
    ratio: ratioOf(tested.share, window.expected),
    excess: excessOf(tested.cases, tested.n, window.expected) / n,
    evenRatio: tested.cases / ((n * window.multiples) / range),
  };
}

/** The groups of one column; each is tested on whole and on half years and the smaller probability counts double. */
function groupsBy(
  by: string,
  column: Children["team"],
  months: Float64Array,
  heaps: readonly [Heap, Heap],
): (ReturnType<typeof groupAgainst> & { excess: number })[] {
  const aged = Uint8Array.from(months, (month) => (month >= 6 && month < 60 ? 1 : 0));
  const sizes = countGroups(by, column, aged, aged);
  const [years, halves] = heaps.map((heap) =>
    countGroups(
      by,
      column,
      markChildren(months, heap.window.isMultiple),
      markChildren(months, heap.window.inWindow),
    ).map((group, i) => ({
      ...groupAgainst(group, heap.window.expected, heap.clustering),
      excess: excessOf(group.cases, group.n, heap.window.expected) / (sizes[i]?.n || 1),
    })),
  ) as [
    (ReturnType<typeof groupAgainst> & { excess: number })[],
    (ReturnType<typeof groupAgainst> & { excess: number })[],
  ];
  return years.map((group, i) => {
    const half = halves[i] ?? group;
    return {
      ...group,
      probability: Math.min(1, 2 * Math.min(group.probability, half.probability)),
      excess: Math.max(group.excess, half.excess),
    };
  });
}

function componentReadings(numbers: AgeHeapingNumbers): {
  readonly years: Reading;
  readonly halfYears: Reading;
  readonly birthDays: Reading;
  readonly sameDay: Reading;
} {
  const [years, halfYears, birthDays, sameDay] = numbers.adjusted as readonly [number, number, number, number];
  const days = numbers.birthDays;
  return {
    years: readDeparture(years, numbers.years.excess, monthLimits),
    halfYears: readDeparture(halfYears, numbers.halfYears.excess, monthLimits),
    birthDays:
      days === null ? "unknown" : readDeparture(birthDays, days.dissimilarity - days.dissimilarityByChance, dayLimits),
    sameDay:
      numbers.sameDay === null
        ? "unknown"
        : readDeparture(sameDay, numbers.sameDay.share - numbers.sameDay.expected, dayLimits),
  };
}

function judge(numbers: AgeHeapingNumbers): Reading {
  const families = ["team", "area", "age-known-how"].map((by) =>
    readGroupsTogether(
      numbers.groups.filter((group) => group.by === by),
      numbers.years.tested.n,
    ),
  );
  return mostSerious([...Object.values(componentReadings(numbers)), ...families]);
}

/** What the finding speaks of: the most serious of years, half years, groups and days, in this order. */
function subject(numbers: AgeHeapingNumbers, reading: Reading): string {
  const { years, halfYears, birthDays, sameDay } = componentReadings(numbers);
  if (years === reading) return "years";
  if (halfYears === reading) return "half-years";
  if (numbers.groups.some((group) => group.reading === reading || group.reading === "doubt")) return "groups";
  if (birthDays === reading) return "birth-days";
  return sameDay === reading ? "same-day" : "groups";
}

function drawn(numbers: AgeHeapingNumbers, reading: Reading): DrawnShares {
  const { expected } = numbers.years.window;
  const unusual = unusualLabels(numbers.groups);
  return {
    id: "age-heaping-groups",
    words: "checks.age-heaping.groups",
    unit: "ratio",
    show: (share) => ratioOf(share, expected),
    overall: numbers.years.tested,
    reading,
    groups: numbers.groups,
    values: { count: unusual.length, total: numbers.groups.length, groups: unusual },
    line: 1,
  };
}

function chartOf(numbers: AgeHeapingNumbers): Chart {
  return {
    id: "age-heaping-months",
    kind: "counts-over",
    title: message("checks.age-heaping.chart.title"),
    alternative: message("checks.age-heaping.chart.alternative", {
      cases: numbers.years.tested.cases,
      ...known("ratio", numbers.years.ratio),
      excess: numbers.years.excess,
    }),
    x: { label: message("checks.age-heaping.chart.axis"), unit: "month" },
    bars: numbers.bars.map((bar) => ({ ...bar, emphasis: bar.at > 0 && bar.at % 6 === 0 })),
  };
}

/** Children by month of age with what the age model gives, as a picture only: the test compares neighbours. */
function barsOf(
  months: Float64Array,
  from: number,
  to: number,
  expectations: { readonly underFiveMortality: number; readonly growthOfBirths: number },
): AgeHeapingNumbers["bars"] {
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

function sourceShares(children: Children, months: Float64Array, years: Heap): AgeHeapingNumbers["bySource"] {
  return (
    [
      [1, "dates"],
      [2, "months"],
    ] as const
  ).flatMap(([code, id]) => {
    const own = months.map((month, i) => (children.ageSource[i] === code ? month : Number.NaN));
    const n = count(markChildren(own, years.window.inWindow));
    if (n < fewestChildren) return [];
    return [
      {
        id,
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

function sameDayOf(children: Children): ShareAgainst | null {
  const { isSame, inDomain } = sameDayOfMonth(children);
  if (count(inDomain) < fewestChildren) return null;
  return sameDayShare(isSame, inDomain, clusteringOf(measurementDesign(children), isSame, inDomain));
}

function heapQuantity(id: string, heap: Heap): Quantity {
  const { tested, window } = heap;
  const show = (share: number): number => ratioOf(share, window.expected);
  const { high } = tested.interval;
  return {
    id,
    unit: "ratio",
    ...valueOrReason(heap.ratio),
    n: tested.n,
    ...(high < 1 ? { interval: { low: show(tested.interval.low), high: show(high), level: 0.95 } } : {}),
    chance: { expected: 1, ...known("low", show(tested.chance.low)), ...known("high", show(tested.chance.high)) },
    ...known("probability", tested.probability),
  };
}

export const ageHeaping: Check<AgeHeapingNumbers> = {
  id: "age-heaping",
  section: "who",
  needs: ["age"],
  sources: [
    "ondo-dhs",
    "shryock-siegel-1976",
    "myers-1940",
    "cochran-1954",
    "benjamini-hochberg-1995",
    "holm-1979",
    "own-age-windows",
  ],

  compute({ children, settings, seed }) {
    const from = Math.max(0, settings.ageRange.from);
    const to = Math.min(59, settings.ageRange.to);
    const months = completedMonths(children);
    const n = months.reduce((sum, month) => sum + (month >= Math.max(6, from) && month <= to ? 1 : 0), 0);
    const twelve = windowOf(12, 3, from, to);
    const six = windowOf(6, 2, from, to);
    if (!(twelve.expected < 1)) return { cannotTell: message("checks.age-heaping.cannot-tell.range", { from, to }) };
    const range = to - Math.max(6, from) + 1;
    const years = heapOf(children, months, twelve, n, range);
    if (years.tested.n < fewestChildren)
      return { cannotTell: message("checks.who.too-few", { n: years.tested.n, least: fewestChildren }) };
    const halfYears = heapOf(children, months, six, n, range);
    const birthDays = birthDaysOf(children);
    const sameDay = sameDayOf(children);
    const families = (["team", "area"] as const)
      .map((by) => groupsBy(by, children[by], months, [years, halfYears]))
      .concat([groupsBy("age-known-how", children.ageKnownHow, months, [years, halfYears])]);
    const adjusted = adjustTogether(
      [
        years.tested.probability,
        halfYears.tested.probability,
        birthDays?.probability ?? Number.NaN,
        sameDay?.probability ?? Number.NaN,
      ],
      families.map((family) => family.map((group) => group.probability)),
    );
    const centred = months.filter((month) => month >= 9 && month <= 56);
    const onSix = centred.reduce((sum, month) => sum + (month % 6 === 0 ? 1 : 0), 0);
    return {
      n,
      fromDates: children.ageSource.reduce((sum, source) => sum + (source === 1 ? 1 : 0), 0),
      fromMonths: children.ageSource.reduce((sum, source) => sum + (source === 2 ? 1 : 0), 0),
      years,
      halfYears,
      whippleOfMonths: from <= 9 && to >= 56 ? shareAgainst(onSix, centred.length, 8 / 48, halfYears.clustering) : null,
      myers: myersOfMonths(months, seed),
      birthDays,
      sameDay,
      adjusted: adjusted.overall,
      groups: families.flatMap((family, i) =>
        readGroups(family, adjusted.families[i] ?? [], (group) => group.excess, monthLimits),
      ),
      bySource: sourceShares(children, months, years),
      bars: barsOf(months, from, to, settings.expectations),
    };
  },

  judge,

  quantities(numbers) {
    const { years, halfYears, whippleOfMonths, myers, birthDays, sameDay } = numbers;
    const whipple = (share: number): number => 600 * share;
    return [
      heapQuantity("whole-years-ratio", years),
      heapQuantity("half-years-ratio", halfYears),
      { id: "heaped-on-whole-years", unit: "share", value: years.excess, n: numbers.n },
      { id: "heaped-on-half-years", unit: "share", value: halfYears.excess, n: numbers.n },
      {
        id: "whole-years-even-ratio",
        unit: "ratio",
        ...valueOrReason(years.evenRatio),
        n: numbers.n,
        chance: { expected: 1 },
      },
      {
        id: "half-years-even-ratio",
        unit: "ratio",
        ...valueOrReason(halfYears.evenRatio),
        n: numbers.n,
        chance: { expected: 1 },
      },
      ...(whippleOfMonths === null || whippleOfMonths.n === 0
        ? []
        : [
            {
              id: "whipple-of-months",
              unit: "index" as const,
              value: whipple(whippleOfMonths.share),
              n: whippleOfMonths.n,
              interval: {
                low: whipple(whippleOfMonths.interval.low),
                high: whipple(whippleOfMonths.interval.high),
                level: 0.95,
              },
              chance: {
                expected: 100,
                low: whipple(whippleOfMonths.chance.low),
                high: whipple(whippleOfMonths.chance.high),
              },
              probability: whippleOfMonths.probability,
            },
          ]),
      ...(myers.n === 0
        ? []
        : [{ id: "myers-of-months", unit: "index" as const, value: myers.index, n: myers.n, chance: myers.chance }]),
      ...(birthDays === null
        ? []
        : [
            {
              id: "birth-day-dissimilarity",
              unit: "share" as const,
              value: birthDays.dissimilarity,
              n: birthDays.n,
              chance: { expected: birthDays.dissimilarityByChance },
              ...known("probability", birthDays.probability),
            },
            {
              id: "birth-day-chi-square",
              unit: "statistic" as const,
              value: birthDays.chiSquare,
              n: birthDays.n,
              ...known("probability", birthDays.probability),
            },
          ]),
      ...(sameDay === null ? [] : [shareQuantity("born-on-visit-day", sameDay)]),
      ...numbers.bySource.map(({ id, tested }) => shareQuantity(`whole-years-from-${id}`, tested)),
    ];
  },

  groups: (numbers) => numbers.groups.map((group) => groupReading(group, [shareQuantity("on-whole-years", group)])),

  say(numbers, reading) {
    const { years, halfYears, birthDays, sameDay } = numbers;
    const groups = unusualLabels(numbers.groups);
    const unusual = reading === "explain" || reading === "doubt";
    const about = unusual ? subject(numbers, reading) : "none";
    const values = {
      n: numbers.n,
      ...known("yearsRatio", years.ratio),
      ...known("halfYearsRatio", halfYears.ratio),
      yearsExcess: Math.max(0, years.excess),
      halfYearsExcess: Math.max(0, halfYears.excess),
      groups,
      count: groups.length,
      day: birthDays?.topDay ?? 0,
      dayShare: birthDays?.shares[birthDays.topDay - 1] ?? 0,
      sameDay: sameDay?.share ?? 0,
    };
    const onDays = about === "birth-days" || about === "same-day";
    return {
      finding: message(`checks.age-heaping.finding.${unusual ? `${reading}-${about}` : reading}`, values),
      meaning: [
        message("checks.age-heaping.meaning.numbers", {
          cases: years.tested.cases,
          window: years.tested.n,
          share: years.tested.share,
          expected: years.tested.expected,
          low: years.tested.interval.low,
          high: years.tested.interval.high,
          chanceLow: years.tested.chance.low,
          chanceHigh: years.tested.chance.high,
        }),
        ...(unusual
          ? [message(`checks.age-heaping.meaning.${onDays ? "days" : "months"}`)]
          : [message("checks.age-heaping.meaning.expected")]),
        message("checks.age-heaping.meaning.source", { dates: numbers.fromDates, months: numbers.fromMonths }),
      ],
      causes: unusual
        ? (onDays ? ["month-only", "from-age"] : ["recall", "birthdays", "calendar"]).map((cause) =>
            message(`checks.age-heaping.cause.${cause}`),
          )
        : [],
      actions: unusual
        ? (onDays ? ["imputed"] : ["where", "indices"]).map((action) =>
            message(`checks.age-heaping.action.${action}`, values),
          )
        : [],
      method: [
        message("checks.age-heaping.method.windows", { designEffect: years.clustering.designEffect }),
        message("checks.age-heaping.method.indices"),
        ...(birthDays === null ? [] : [message("checks.age-heaping.method.days", { n: birthDays.n })]),
        message("checks.age-heaping.method.size", {
          explain: monthLimits.explain,
          doubt: monthLimits.doubt,
          dayExplain: dayLimits.explain,
          dayDoubt: dayLimits.doubt,
        }),
      ],
    };
  },

  charts: (numbers, reading) => [
    chartOf(numbers),
    ...(numbers.groups.length === 0 ? [] : [shareChart(drawn(numbers, reading))]),
  ],
  tables: (numbers) => [shareTable(drawn(numbers, judge(numbers)))],
};
