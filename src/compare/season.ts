import type { SurveySummary } from "./summary.js";

const millisecondsADay = 86_400_000;

/** ISO day in the middle of a survey; null where its days are not known. */
export function middleDay({ firstDay, lastDay }: SurveySummary): string | null {
  const first = Date.parse(firstDay ?? lastDay ?? "");
  const last = Date.parse(lastDay ?? firstDay ?? "");
  if (Number.isNaN(first) || Number.isNaN(last)) return null;
  const days = Math.floor((first + last) / 2 / millisecondsADay);
  return new Date(days * millisecondsADay).toISOString().slice(0, 10);
}

/** Month of the year in the middle of a survey, 1 to 12; null where its days are not known. */
export function middleMonth(survey: SurveySummary): number | null {
  const day = middleDay(survey);
  return day === null ? null : Number(day.slice(5, 7));
}

/** How many months of the year lie between two surveys, whatever the years: 0 to 6. Null where a day is not known. */
export function monthsApart(first: SurveySummary, second: SurveySummary): number | null {
  const [one, two] = [middleMonth(first), middleMonth(second)];
  if (one === null || two === null) return null;
  const apart = Math.abs(one - two);
  return Math.min(apart, 12 - apart);
}
