import type { GroupReading, Quantity, Reading } from "../../results/schema.js";
import type { Check } from "../check.js";
import { unweightedDesign } from "../shared/unweighted-design.js";
import { chart, tables } from "./drawing.js";
import { groupSpreads, indexSpreads, whyNoSpread } from "./numbers.js";
import { narrowBelow } from "./reference.js";
import { noticedGroups, type SpreadNumbers, say } from "./words.js";

function judge(numbers: SpreadNumbers): Reading {
  const readings = numbers.indices.map((one) => one.reading);
  if (readings.includes("doubt")) return "doubt";
  return readings.includes("explain") || noticedGroups(numbers).length > 0 ? "explain" : "expected";
}

function quantities(numbers: SpreadNumbers): Quantity[] {
  return numbers.indices.flatMap((one): Quantity[] => {
    const { index, explainAbove } = one.reference;
    const interval = { low: one.fixed.low, high: one.fixed.high, level: 0.95 };
    const { of, aroundMean } = one;
    const test: Quantity[] = Number.isNaN(one.teamsTest.probability)
      ? []
      : [
          {
            id: `team-spread-test-${index}`,
            of,
            unit: "statistic",
            value: one.teamsTest.f,
            n: one.fixed.n,
            probability: one.teamsTest.probability,
            chance: { expected: 1 },
          },
        ];
    return [
      {
        id: `standard-deviation-${index}`,
        of,
        unit: "z",
        value: one.fixed.value,
        n: one.fixed.n,
        interval,
        chance: { expected: 1, low: narrowBelow, high: explainAbove },
      },
      ...(aroundMean === null
        ? []
        : [
            {
              id: `standard-deviation-around-mean-${index}`,
              of: aroundMean.of,
              unit: "z",
              value: aroundMean.value,
              n: aroundMean.n,
              interval: { low: aroundMean.low, high: aroundMean.high, level: 0.95 },
            } satisfies Quantity,
          ]),
      ...test,
    ];
  });
}

function groups(numbers: SpreadNumbers): GroupReading[] {
  const keys = [...new Set(numbers.groups.map((group) => `${group.by}\n${group.label}`))];
  const order: readonly Reading[] = ["expected", "explain", "doubt"];
  return keys.flatMap((key) => {
    const own = numbers.groups.filter((group) => `${group.by}\n${group.label}` === key);
    const first = own[0];
    if (first === undefined) return [];
    const worst = own.reduce<Reading>(
      (so, one) => (order.indexOf(one.reading) > order.indexOf(so) ? one.reading : so),
      "expected",
    );
    const adjusted = own.map((one) => one.adjustedProbability).filter((p) => !Number.isNaN(p));
    return [
      {
        by: first.by,
        label: first.label,
        n: Math.max(...own.map((one) => one.spread.n)),
        of: own.reduce((most, one) => (one.spread.n > most.spread.n ? one : most), first).of,
        reading: worst,
        quantities: own.map((one) => ({
          id: `standard-deviation-${one.index}`,
          of: one.of,
          unit: "z" as const,
          value: one.spread.value,
          n: one.spread.n,
          interval: { low: one.spread.low, high: one.spread.high, level: 0.95 },
        })),
        ...(adjusted.length > 0 ? { adjustedProbability: Math.min(...adjusted) } : {}),
      },
    ];
  });
}

/**
 * Whether z-scores spread more, or less, than careful measurement of one population would have them. A wide spread is
 * real differences between children, or error of measurement and age: the figure alone cannot say which. Error widens
 * the spread, and a wider spread puts more children below every cut-off.
 */
export const spread: Check<SpreadNumbers> = {
  id: "spread",
  section: "what",
  needs: ["any-index"],
  sources: [
    "mei-2007",
    "conkle-2017",
    "bilukha-2023",
    "crowe-2014",
    "bilukha-2020",
    "brown-forsythe-1974",
    "benjamini-hochberg-1995",
    "spread-lines",
  ],
  compute: ({ children, book }) => {
    const design = unweightedDesign(children);
    const indices = indexSpreads({ children, book }, design);
    if (indices.length === 0) return { cannotTell: whyNoSpread(children, design) };
    return { indices, groups: groupSpreads({ children, book }, design, indices) };
  },
  judge,
  quantities,
  groups,
  say,
  charts: (numbers) => numbers.indices.map((one) => chart(numbers, one)),
  tables,
};
