import type { Block, Comparison, ComparisonSection, Difference, Pair } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { roundsOf } from "./rounds.js";
import type { SurveySummary } from "./summary.js";

/** Everything the story of a comparison is told from. */
export interface StoryParts {
  readonly summaries: readonly SurveySummary[];
  readonly refused: readonly Comparison["refused"][number][];
  readonly pairs: readonly Pair[];
  /** With the number of paired scenarios. */
  readonly differences: readonly Difference[];
  readonly pooled: readonly Comparison["pooled"][number][];
  readonly sections: readonly { readonly id: ComparisonSection; readonly blocks: readonly Block[] }[];
  /** Ids of the estimates compared, in the order in which they are told. */
  readonly estimates: readonly string[];
  /** Exclusion rule that all estimates are taken under; null where there is none in common. */
  readonly rule: string | null;
  /** What the user says about the seasons, in the user's words. */
  readonly seasonNote: string | null;
}

/** A difference whose numbers are all there. */
export type Told = Difference & {
  readonly first: number;
  readonly second: number;
  readonly difference: number;
  readonly interval: NonNullable<Difference["interval"]>;
};

/** The step from the round before to the last round of one place. */
export interface LastStep {
  readonly place: string;
  readonly first: SurveySummary;
  readonly second: SurveySummary;
  /** Null where it cannot be told. */
  readonly difference: Told | null;
}

export function isTold(difference: Difference): difference is Told {
  const { first, second, interval, verdict } = difference;
  const numbers = first !== null && second !== null && difference.difference !== null && interval !== null;
  return verdict !== "cannot-tell" && numbers;
}

const isMean = (estimate: string): boolean => estimate.startsWith("mean-");

/** The estimate a reader looks for first: the first share of the list that any survey has. */
export function headlineOf({ estimates, summaries }: StoryParts): string | null {
  const has = (id: string): boolean => summaries.some((survey) => survey.estimates.get(id)?.overall?.value != null);
  return estimates.find((id) => !isMean(id) && has(id)) ?? null;
}

/** The last step of every place seen more than once, the strongest change first. */
export function lastSteps(parts: StoryParts, estimate: string): LastStep[] {
  const ofPair = new Map(
    parts.differences.filter((one) => one.estimate === estimate).map((one) => [one.pair, one] as const),
  );
  const steps = [...roundsOf(parts.summaries)].flatMap(([place, rounds]): LastStep[] => {
    const [first, second] = rounds.slice(-2);
    if (first === undefined || second === undefined) return [];
    const difference = ofPair.get(`${first.key}..${second.key}`);
    return [{ place, first, second, difference: difference !== undefined && isTold(difference) ? difference : null }];
  });
  const strength = ({ difference }: LastStep): number =>
    difference === null ? -1 : Math.abs(difference.difference) / (difference.standardError ?? Number.POSITIVE_INFINITY);
  return steps.sort((a, b) => strength(b) - strength(a));
}

export function roundName({ round }: Pick<SurveySummary, "round">): string | Message {
  return round ?? message("compare.story.round-unknown");
}

/** Sentences one after the other. */
export function together(sentences: readonly (Message | null)[]): Message | null {
  const said = sentences.filter((sentence) => sentence !== null);
  return said.reduce<Message | null>(
    (before, next) => (before === null ? next : message("compare.story.together", { before, next })),
    null,
  );
}
