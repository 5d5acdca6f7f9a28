import type { Difference } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { isClear } from "../results/verdict.js";
import { significanceLevel } from "../stats/confidence.js";
import { type LastStep, lastSteps, roundName, type StoryParts, type Told } from "./story-parts.js";
import type { SurveySummary } from "./summary.js";

/** Places named in one sentence. */
const mostNamed = 3;
const nameOf = (estimate: string): Message => message(`estimate.${estimate}`);

function oneStep(estimate: string, { place, first, second, difference }: LastStep): Message {
  const rounds = { estimate: nameOf(estimate), place, before: roundName(first), after: roundName(second) };
  if (difference === null) return message("compare.story.one.cannot-tell", rounds);
  const { low, high } = difference.interval;
  const numbers = { first: difference.first, second: difference.second, difference: difference.difference, low, high };
  return message(`compare.story.one.${difference.verdict}`, { ...rounds, ...numbers });
}

function severalSteps(estimate: string, steps: readonly LastStep[]): Message {
  const count = (verdict: string): number => steps.filter(({ difference }) => difference?.verdict === verdict).length;
  const changed = steps.filter(({ difference }) => difference !== null && isClear(difference));
  const named = changed.slice(0, mostNamed).map(({ place, difference }) => {
    const { first, second } = difference as Told;
    return message("compare.story.change", { place, first, second });
  });
  const counts = {
    estimate: nameOf(estimate),
    places: steps.length,
    unclear: count("no-clear-change"),
    unknown: steps.filter(({ difference }) => difference === null).length,
  };
  if (changed.length === 0) return message("compare.story.several.none", counts);
  const more = changed.length - named.length;
  return message("compare.story.several.some", {
    ...counts,
    rose: count("rise"),
    fell: count("fall"),
    names: named,
    more,
  });
}

/** 'Of 3 places seen more than once, one shows a clear rise ...'; null where no place was seen twice. */
export function roundsSentence(parts: StoryParts, estimate: string): Message | null {
  const steps = lastSteps(parts, estimate);
  const [only] = steps;
  if (only === undefined) return null;
  return steps.length === 1 ? oneStep(estimate, only) : severalSteps(estimate, steps);
}

/**
 * Whether what was just said can be said with the findings of both surveys put right as well: a change is established only where
 * chance alone and the findings put right agree on it. Null where nothing could be paired.
 */
export function repairedSentence(parts: StoryParts, estimate: string): Message | null {
  const steps = lastSteps(parts, estimate);
  const told = steps.flatMap(({ difference }) => (difference?.paired === undefined ? [] : [difference]));
  const clear = told.filter(isClear);
  const [one] = steps.length === 1 ? told : clear;
  if (one?.paired === undefined) return null;
  if (clear.length > 1) {
    const solid = clear.filter((each) => isEstablished(each)).length;
    return message("compare.story.repaired.several", { changes: clear.length, solid });
  }
  const { repaired } = one.paired;
  if (repaired == null) return message("compare.story.repaired.nothing");
  const { difference, interval } = repaired;
  const values = { difference, low: interval.low, high: interval.high };
  const agrees = repaired.verdict === one.verdict;
  const kind = isClear(one) ? (agrees ? "holds" : "gone") : agrees ? "unclear" : "appears";
  return message(`compare.story.repaired.${kind}`, values);
}

/** A clear change that stays the same with the findings of both surveys put right. */
export function isEstablished({ verdict, paired }: Pick<Difference, "verdict" | "paired">): boolean {
  return isClear({ verdict }) && (paired?.repaired == null || paired.repaired.verdict === verdict);
}

interface Level {
  readonly survey: SurveySummary;
  readonly value: number;
}

/** The round with most surveys of different places that have the estimate. */
function widestRound(parts: StoryParts, estimate: string): readonly Level[] {
  const byRound = new Map<string, Level[]>();
  for (const survey of parts.summaries) {
    const found = survey.estimates.get(estimate);
    const cell = (parts.rule === null ? undefined : found?.byExclusion.get(parts.rule)) ?? found?.overall;
    if (cell?.value == null) continue;
    const known = byRound.get(survey.round ?? "") ?? [];
    if (known.some((level) => level.survey.place === survey.place)) continue;
    byRound.set(survey.round ?? "", [...known, { survey, value: cell.value }]);
  }
  return [...byRound.values()].reduce((most, one) => (one.length > most.length ? one : most), []);
}

/** Pairs of places of these surveys: how many were compared, and how many differ clearly. */
function comparedPairs(parts: StoryParts, estimate: string, keys: ReadonlySet<string>) {
  const ids = new Set(
    parts.pairs
      .filter((pair) => pair.question === "places" && keys.has(pair.first) && keys.has(pair.second))
      .map(({ id }) => id),
  );
  const own = parts.differences.filter((one) => one.estimate === estimate && ids.has(one.pair));
  return {
    pairs: own.filter(({ verdict }) => verdict !== "cannot-tell").length,
    clear: own.filter(isClear).length,
  };
}

/** How far the places of one round lie apart, and whether that is more than chance; null for fewer than two. */
export function placesSentence(parts: StoryParts, estimate: string): Message | null {
  const levels = [...widestRound(parts, estimate)].sort((a, b) => a.value - b.value);
  const [lowest, highest] = [levels[0], levels.at(-1)];
  if (lowest === undefined || highest === undefined || levels.length < 2) return null;
  const { round } = lowest.survey;
  const pooled = parts.pooled.find((one) => one.estimate === estimate && one.round === round);
  const values = {
    estimate: nameOf(estimate),
    surveys: levels.length,
    round: roundName(lowest.survey),
    low: lowest.value,
    lowest: lowest.survey.place,
    high: highest.value,
    highest: highest.survey.place,
    ...comparedPairs(parts, estimate, new Set(levels.map(({ survey }) => survey.key))),
  };
  const heterogeneity = pooled?.heterogeneity;
  if (heterogeneity === undefined || heterogeneity === null) return message("compare.story.places.unknown", values);
  const { probability, iSquared } = heterogeneity;
  if (probability < significanceLevel) return message("compare.story.places.differ", { ...values, share: iSquared });
  return message("compare.story.places.alike", values);
}
