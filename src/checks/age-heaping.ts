/** Ages that crowd on whole and half years: rounded ages shift height-for-age and weight-for-age, and move children over age limits. */
import { message } from "../results/message.js";
import type { Chart, Quantity, Reading } from "../results/schema.js";
import { birthDaysOf } from "./birth-days.js";
import type { Check } from "./check.js";
import { completedMonths, myersOfMonths, windowOf } from "./heaping.js";
import {
  type AgeHeapingNumbers,
  barsOf,
  groupsBy,
  type Heap,
  heapOf,
  ratioOf,
  sameDayOf,
  sourceShares,
} from "./month-heaps.js";
import { adjustTogether } from "./multiplicity.js";
import { fewestChildren, mostSerious, readDeparture, readGroupsTogether, type SizeLimits } from "./reading.js";
import { type DrawnShares, shareChart, shareTable, unusualLabels } from "./share-drawing.js";
import { groupReading, known, readGroups, shareAgainst, shareQuantity, valueOrReason } from "./shares.js";

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
  const families = ["team", "area", "stratum", "age-known-how"].map((by) =>
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
      excess: numbers.years.excess,
    }),
    x: { label: message("checks.age-heaping.chart.axis"), unit: "month" },
    bars: numbers.bars.map((bar) => ({ ...bar, emphasis: bar.at > 0 && bar.at % 6 === 0 })),
  };
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
    const families = (["team", "area", "stratum"] as const)
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
      yearsShare: years.tested.share,
      yearsExpected: years.tested.expected,
      halfYearsShare: halfYears.tested.share,
      halfYearsExpected: halfYears.tested.expected,
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
        ...(groups.length === 0 ? [] : [message("checks.age-heaping.meaning.groups", values)]),
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
