import { message } from "../results/message.js";
import type { EstimateCell, Message } from "../results/schema.js";
import { headlineEstimates } from "./headline.js";
import type { SurveySummary } from "./summary.js";

/** The estimates asked for, else the usual ones; of these what at least one survey has. */
export function comparedEstimates(summaries: readonly SurveySummary[], asked: readonly string[] | null): string[] {
  return (asked ?? headlineEstimates).filter((id) =>
    summaries.some((survey) => survey.estimates.get(id)?.overall?.value != null),
  );
}

/** An estimate of a survey under an exclusion rule; null where the results do not hold it. */
export function cellUnder(survey: SurveySummary, estimate: string, rule: string): EstimateCell | null {
  const found = survey.estimates.get(estimate);
  if (found === undefined) return null;
  if (survey.definition.exclusionRule === rule) return found.overall;
  return found.byExclusion.get(rule) ?? null;
}

/** Shares are written in percent, means in z. */
export const kindOf = (estimate: string): "proportion" | "mean" =>
  estimate.startsWith("mean-") ? "mean" : "proportion";

/** An estimate's value inside a sentence. */
export const valueText = (estimate: string, value: number): Message =>
  message(`compare.value.${kindOf(estimate)}`, { value });

/** A difference with its sign inside a sentence. */
export const differenceText = (estimate: string, value: number): Message =>
  message(`compare.points.${kindOf(estimate)}`, { value });

/** A limit of a difference inside a sentence, after the difference itself: with its sign, without its unit. */
export const limitText = (estimate: string, value: number): Message =>
  message(`compare.limit.${kindOf(estimate)}`, { value });

/** A standard deviation between places inside a sentence. */
export const spreadText = (estimate: string, value: number): Message =>
  message(`compare.spread.${kindOf(estimate)}`, { value });

/** A survey inside a sentence: its place, with the round where it is known. */
export const surveyName = ({ place, round }: SurveySummary): Message | string =>
  round === null ? place : message("compare.survey", { place, round });

/** The first few of a list for a sentence, and how many more there are. */
export function fewOf<T>(items: readonly T[], most = 6): { names: readonly T[]; more: number } {
  return { names: items.slice(0, most), more: Math.max(0, items.length - most) };
}
