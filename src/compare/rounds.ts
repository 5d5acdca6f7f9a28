import type { SurveySummary } from "./summary.js";

/**
 * The surveys of each place in the order of their first days; those without a day come last, in the order given. Two surveys
 * of one place that began on the same day stay in the order given.
 */
export function surveysByPlace(summaries: readonly SurveySummary[]): Map<string, readonly SurveySummary[]> {
  const byPlace = new Map<string, SurveySummary[]>();
  for (const survey of summaries) {
    const known = byPlace.get(survey.place);
    if (known === undefined) byPlace.set(survey.place, [survey]);
    else known.push(survey);
  }
  const day = ({ firstDay }: SurveySummary): string => firstDay ?? "~";
  for (const rounds of byPlace.values()) rounds.sort((a, b) => (day(a) < day(b) ? -1 : day(a) > day(b) ? 1 : 0));
  return byPlace;
}

/** The same for the places that were seen more than once alone. */
export function roundsOf(summaries: readonly SurveySummary[]): Map<string, readonly SurveySummary[]> {
  return new Map([...surveysByPlace(summaries)].filter(([, rounds]) => rounds.length > 1));
}
