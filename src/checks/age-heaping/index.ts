/** Ages that crowd on whole and half years: rounded ages shift height-for-age and weight-for-age, and move children over age limits. */
import { message } from "../../results/message.js";
import type { Chart, Reading } from "../../results/schema.js";
import type { Check } from "../check.js";
import { adjustTogether } from "../shared/multiplicity.js";
import { fewestChildren } from "../shared/reading.js";
import { type DrawnShares, shareChart, shareTable, unusualLabels } from "../shared/share-drawing.js";
import { groupReading, readGroups, shareAgainst, shareQuantity } from "../shared/shares.js";
import { toldOf } from "../shared/told.js";
import { birthDaysOf } from "./birth-days.js";
import { namedFirst, placeName } from "./heaped-groups.js";
import { completedMonths, myersOfMonths, windowOf } from "./heaping.js";
import {
  type AgeHeapingNumbers,
  barsOf,
  groupsBy,
  heapOf,
  oddsAgainstExpected,
  sameDayOf,
  sourceShares,
} from "./month-heaps.js";
import { ageHeapingQuantities } from "./quantities.js";
import { judgeAgeHeaping, monthLimits } from "./readings.js";
import { sayAgeHeaping } from "./words.js";

function drawn(numbers: AgeHeapingNumbers, reading: Reading): DrawnShares {
  const { expected } = numbers.years.window;
  const unusual = unusualLabels(numbers.groups);
  const first = namedFirst(numbers.groups);
  return {
    id: "age-heaping-groups",
    words: "checks.age-heaping.groups",
    unit: "ratio",
    show: (share) => oddsAgainstExpected(share, expected),
    overall: { ...numbers.years.tested, of: numbers.years.subject.whole },
    reading,
    groups: numbers.groups,
    values: {
      count: unusual.length,
      total: numbers.groups.length,
      place: first === null ? "" : placeName(first),
    },
    line: 1,
  };
}

function chartOf(numbers: AgeHeapingNumbers): Chart {
  return {
    id: "age-heaping-months",
    kind: "counts-over",
    of: numbers.of.bars,
    title: message("checks.age-heaping.chart.title"),
    alternative: message("checks.age-heaping.chart.alternative", {
      cases: numbers.years.tested.cases,
      excess: numbers.years.excess,
    }),
    x: { label: message("checks.age-heaping.chart.axis"), unit: "month" },
    bars: numbers.bars.map((bar) => ({ ...bar, emphasis: bar.at > 0 && bar.at % 6 === 0 })),
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

  compute({ children, settings, seed, book }) {
    const from = Math.max(0, settings.ageRange.from);
    const to = Math.min(59, settings.ageRange.to);
    const months = completedMonths(children);
    const n = months.reduce((sum, month) => sum + (month >= Math.max(6, from) && month <= to ? 1 : 0), 0);
    const twelve = windowOf(12, 3, from, to);
    const six = windowOf(6, 2, from, to);
    if (!(twelve.expected < 1)) return { cannotTell: message("checks.age-heaping.cannot-tell.range", { from, to }) };
    const range = to - Math.max(6, from) + 1;
    const years = heapOf({ children, book }, months, twelve, { n, range });
    if (years.tested.n < fewestChildren)
      return { cannotTell: message("checks.who.too-few", { n: years.tested.n, least: fewestChildren }) };
    const halfYears = heapOf({ children, book }, months, six, { n, range });
    const birthDays = birthDaysOf({ children, book });
    const sameDay = sameDayOf({ children, book });
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
    const told = (name: string, least: number, most: number) =>
      book.subject(
        `age/${name}`,
        Uint8Array.from(months, (month) => (month >= least && month <= most ? 1 : 0)),
      ).whole;
    return {
      of: {
        ages: told("months", Math.max(6, from), to),
        bars: told("all-months", from, to),
        centred: told("centred", 9, 56),
      },
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
      bySource: sourceShares({ children, book }, months, years),
      bars: barsOf(months, from, to, settings.expectations),
    };
  },

  judge: judgeAgeHeaping,

  quantities: ageHeapingQuantities,

  groups: (numbers) =>
    toldOf(numbers.groups).map((group) => groupReading(group, [shareQuantity("on-whole-years", group, group.of)])),

  say: sayAgeHeaping,

  charts: (numbers, reading) => [
    chartOf(numbers),
    ...(numbers.groups.length === 0 ? [] : [shareChart(drawn(numbers, reading))]),
  ],
  tables: (numbers) => [shareTable(drawn(numbers, judgeAgeHeaping(numbers)))],
};
