import type { Reading } from "../../results/schema.js";
import { mostSerious, readDeparture, readGroupsTogether, type SizeLimits } from "../shared/reading.js";
import type { AgeHeapingNumbers } from "./month-heaps.js";

/**
 * Own judgement, no published pass mark: children in a hundred whose age stands on a multiple beyond what the months
 * around it lead to expect. Three are worth a question; ten mean that height-for-age rests on rounded ages.
 */
export const monthLimits: SizeLimits = { explain: 0.03, doubt: 0.1 };
/**
 * Own judgement: share of birth dates that would have to move to another day, beyond chance. A wrong day within the
 * right month shifts an age by two weeks at most, so much more of it is needed before it matters.
 */
export const dayLimits: SizeLimits = { explain: 0.05, doubt: 0.3 };

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

/** The most serious of the parts and of each family of groups. */
export function judgeAgeHeaping(numbers: AgeHeapingNumbers): Reading {
  const families = ["team", "area", "stratum", "age-known-how"].map((by) =>
    readGroupsTogether(
      numbers.groups.filter((group) => group.by === by),
      numbers.years.tested.n,
    ),
  );
  return mostSerious([...Object.values(componentReadings(numbers)), ...families]);
}

/** What the finding speaks of: the most serious of years, half years, groups and days, in this order. */
export function subject(numbers: AgeHeapingNumbers, reading: Reading): string {
  const { years, halfYears, birthDays, sameDay } = componentReadings(numbers);
  if (years === reading) return "years";
  if (halfYears === reading) return "half-years";
  if (numbers.groups.some((group) => group.reading === reading || group.reading === "doubt")) return "groups";
  if (birthDays === reading) return "birth-days";
  return sameDay === reading ? "same-day" : "groups";
}
