import { message } from "../../results/message.js";
import { isConcern } from "../../results/reading.js";
import type { Reading } from "../../results/schema.js";
import type { Said } from "../check.js";
import { unusualLabels } from "../shared/share-drawing.js";
import { groupSentences, leadOf, namedFirst, placeName } from "./heaped-groups.js";
import type { AgeHeapingNumbers } from "./month-heaps.js";
import { dayLimits, monthLimits, subject } from "./readings.js";

/** What the check says: the group in which ages crowd most comes first. */
export function sayAgeHeaping(numbers: AgeHeapingNumbers, reading: Reading): Said {
  const { years, halfYears, birthDays, sameDay } = numbers;
  const groups = unusualLabels(numbers.groups);
  const lead = leadOf(numbers.groups);
  const first = namedFirst(numbers.groups);
  const unusual = isConcern(reading);
  const about = unusual ? subject(numbers, reading) : "none";
  const values = {
    n: numbers.n,
    yearsShare: years.tested.share,
    yearsExpected: years.tested.expected,
    halfYearsShare: halfYears.tested.share,
    halfYearsExpected: halfYears.tested.expected,
    placed: lead === null ? "no" : "yes",
    place: first === null ? "" : placeName(first),
    count: groups.length,
    others: Math.max(0, groups.length - 1),
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
      ...groupSentences(numbers.groups),
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
}
