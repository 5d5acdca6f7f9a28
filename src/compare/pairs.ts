import type { Pair } from "../results/comparison.js";
import type { CompareSettings } from "./compare-settings.js";
import { roundsOf } from "./rounds.js";
import type { SurveySummary } from "./summary.js";

/**
 * Up to this many places in one round are set against each other one by one: 12 places make 66 pairs. With more, every pair would be
 * too many to read and false-discovery control would leave little power: the spread over places is then told as a whole.
 */
export const mostPlacesPaired = 12;

type NamedPairs = Pick<CompareSettings, "pairs">;

function pairOf(first: SurveySummary, second: SurveySummary): Pair {
  const question = first.place === second.place ? "rounds" : "places";
  return { id: `${first.key}..${second.key}`, question, first: first.key, second: second.key };
}

/** Surveys by round, in the order given; those without a known round are in none. */
export function byRound(summaries: readonly SurveySummary[]): Map<string, SurveySummary[]> {
  const rounds = new Map<string, SurveySummary[]>();
  for (const survey of summaries) {
    if (survey.round === null) continue;
    const known = rounds.get(survey.round);
    if (known === undefined) rounds.set(survey.round, [survey]);
    else known.push(survey);
  }
  return rounds;
}

/** Each round with the one before, and the last with the first where there are more than two. */
function pairsOfRounds(summaries: readonly SurveySummary[]): Pair[] {
  return [...roundsOf(summaries).values()].flatMap((rounds) => {
    const steps = rounds.slice(1).map((survey, i) => pairOf(rounds[i] as SurveySummary, survey));
    const [first, last] = [rounds[0], rounds.at(-1)];
    return rounds.length > 2 && first !== undefined && last !== undefined ? [...steps, pairOf(first, last)] : steps;
  });
}

function pairsOfPlaces(summaries: readonly SurveySummary[]): Pair[] {
  return [...byRound(summaries).values()].flatMap((surveys) => {
    if (surveys.length > mostPlacesPaired) return [];
    return surveys.flatMap((first, i) =>
      surveys
        .slice(i + 1)
        .filter(({ place }) => place !== first.place)
        .map((second) => pairOf(first, second)),
    );
  });
}

/** The pairs that the settings name, found by key or file; of one place the earlier round first. */
export function pairsNamed(
  summaries: readonly SurveySummary[],
  { pairs }: NamedPairs,
): { found: Pair[]; lost: string[][] } {
  const survey = new Map(summaries.flatMap((one) => [[one.file, one] as const, [one.key, one] as const]));
  const found: Pair[] = [];
  const lost: string[][] = [];
  for (const named of pairs ?? []) {
    const first = survey.get(named.first);
    const second = survey.get(named.second);
    if (first === undefined || second === undefined || first === second) lost.push([named.first, named.second]);
    else if (first.place === second.place && (first.firstDay ?? "") > (second.firstDay ?? "")) {
      found.push(pairOf(second, first));
    } else found.push(pairOf(first, second));
  }
  return { found, lost };
}

/** Pairs that the settings name of which a survey is not here, as they were named. */
export const pairsNotFound = (summaries: readonly SurveySummary[], settings: NamedPairs): string[][] =>
  pairsNamed(summaries, settings).lost;

/** Rounds with too many places for pairs of places, with the number of places. */
export function roundsNotPaired(summaries: readonly SurveySummary[]): { round: string; places: number }[] {
  return [...byRound(summaries)]
    .filter(([, surveys]) => surveys.length > mostPlacesPaired)
    .map(([round, surveys]) => ({ round, places: surveys.length }));
}

/**
 * What is set against what: in each place every round with the one before and the last with the first; in each round every place
 * with every other while they are few; and what the settings name. Each pair once.
 */
export function pairsOf(summaries: readonly SurveySummary[], settings: NamedPairs): Pair[] {
  const all = [...pairsOfRounds(summaries), ...pairsOfPlaces(summaries)];
  const known = new Set(all.flatMap(({ first, second }) => [`${first}..${second}`, `${second}..${first}`]));
  for (const pair of pairsNamed(summaries, settings).found) {
    if (known.has(pair.id)) continue;
    known.add(pair.id).add(`${pair.second}..${pair.first}`);
    all.push(pair);
  }
  return all;
}
