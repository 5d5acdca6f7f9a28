import type { Quantity } from "../../results/schema.js";
import { known, shareQuantity, valueOrReason } from "../shared/shares.js";
import { type AgeHeapingNumbers, type Heap, oddsAgainstExpected } from "./month-heaps.js";

function heapQuantity(id: string, heap: Heap): Quantity {
  const { tested, window } = heap;
  const show = (share: number): number => oddsAgainstExpected(share, window.expected);
  const { high } = tested.interval;
  return {
    id,
    of: heap.subject.whole,
    unit: "ratio",
    ...valueOrReason(heap.ratio),
    n: tested.n,
    ...(high < 1 ? { interval: { low: show(tested.interval.low), high: show(high), level: 0.95 } } : {}),
    chance: { expected: 1, ...known("low", show(tested.chance.low)), ...known("high", show(tested.chance.high)) },
    ...known("probability", tested.probability),
  };
}

/** Every figure of the check as it stands in results.json. */
export function ageHeapingQuantities(numbers: AgeHeapingNumbers): Quantity[] {
  const { years, halfYears, whippleOfMonths, myers, birthDays, sameDay } = numbers;
  const { ages, centred } = numbers.of;
  const whipple = (share: number): number => 600 * share;
  return [
    heapQuantity("whole-years-ratio", years),
    heapQuantity("half-years-ratio", halfYears),
    { id: "heaped-on-whole-years", of: ages, unit: "share", value: years.excess, n: numbers.n },
    { id: "heaped-on-half-years", of: ages, unit: "share", value: halfYears.excess, n: numbers.n },
    {
      id: "whole-years-even-ratio",
      of: ages,
      unit: "ratio",
      ...valueOrReason(years.evenRatio),
      n: numbers.n,
      chance: { expected: 1 },
    },
    {
      id: "half-years-even-ratio",
      of: ages,
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
            of: centred,
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
      : [
          {
            id: "myers-of-months",
            of: ages,
            unit: "index" as const,
            value: myers.index,
            n: myers.n,
            chance: myers.chance,
          },
        ]),
    ...(birthDays === null
      ? []
      : [
          {
            id: "birth-day-dissimilarity",
            of: birthDays.of,
            unit: "share" as const,
            value: birthDays.dissimilarity,
            n: birthDays.n,
            chance: { expected: birthDays.dissimilarityByChance },
            ...known("probability", birthDays.probability),
          },
          {
            id: "birth-day-chi-square",
            of: birthDays.of,
            unit: "statistic" as const,
            value: birthDays.chiSquare,
            n: birthDays.n,
            ...known("probability", birthDays.probability),
          },
        ]),
    ...(sameDay === null ? [] : [shareQuantity("born-on-visit-day", sameDay, sameDay.of)]),
    ...numbers.bySource.map(({ id, tested, of }) => shareQuantity(`whole-years-from-${id}`, tested, of)),
  ];
}
