import { message } from "../../results/message.js";
import { isConcern } from "../../results/reading.js";
import type { Message, Reading } from "../../results/schema.js";
import type { Said } from "../check.js";
import { type DigitNumbers, judgeStep, type TeamDigits } from "./digits.js";

/** Where the words that all three digit checks share stand. */
export const common = "checks.digits";

/** What the finding is about: the step, the digits of the survey, or those of some teams. */
export function findingKind(numbers: DigitNumbers, reading: Reading): string {
  if (reading === "expected" || reading === "unknown") return reading;
  if (judgeStep(numbers) === reading) return "step";
  // Where a minority of teams carries it, name them.
  const noticed = noticedTeams(numbers).length;
  return noticed > 0 && 2 * noticed < numbers.teams.length ? "teams" : "preferred";
}

/** The teams that need explaining or are in doubt. */
export function noticedTeams(numbers: DigitNumbers): readonly TeamDigits[] {
  return numbers.teams.filter((team) => isConcern(team.reading));
}

/** The digit that the noticed teams prefer most, and its share in the team that does so most. */
function topOfTeams(numbers: DigitNumbers, teams: readonly TeamDigits[]): { teamDigit: string; teamShare: number } {
  const shares = teams.flatMap((team) => (team.series?.shares ?? []).map((share, digit) => ({ share, digit })));
  const top = shares.reduce((best, one) => (one.share > best.share ? one : best), { share: 0, digit: 0 });
  return { teamDigit: numbers.digits[top.digit] ?? "", teamShare: top.share };
}

/** The values that sentences, charts and tables print. */
export function values(numbers: DigitNumbers): Record<string, number | string | readonly string[]> {
  const { overall, measure } = numbers;
  const top = overall === null ? 0 : overall.shares.indexOf(Math.max(...overall.shares));
  const teams = noticedTeams(numbers);
  return {
    measure: measure.name,
    n: numbers.n,
    step: numbers.step,
    place: numbers.place,
    resolution: measure.resolution,
    stepSpread: numbers.stepSpread,
    stepSpreadZ: numbers.stepSpread / measure.oneZ,
    digits: numbers.digits,
    digitCount: numbers.digits.length,
    topDigit: numbers.digits[top] ?? "",
    topShare: overall?.shares[top] ?? 0,
    zero: overall?.zero.value ?? 0,
    zeroLow: overall?.zero.interval.low ?? 0,
    zeroHigh: overall?.zero.interval.high ?? 0,
    zeroExpected: overall?.zero.expected ?? 0,
    zeroOrFive: overall?.zeroOrFive?.value ?? 0,
    dissimilarity: overall?.dissimilarity ?? 0,
    dissimilarityChance: overall?.dissimilarityChance.mean ?? 0,
    dissimilarityUpper: overall?.dissimilarityChance.upper95 ?? 0,
    score: overall?.score ?? 0,
    scoreChance: overall?.scoreChance.mean ?? 0,
    addedSpread: overall?.addedSpread ?? 0,
    addedSpreadZ: (overall?.addedSpread ?? 0) / measure.oneZ,
    teams: teams.map((team) => team.label),
    teamCount: teams.length,
    teamsRead: numbers.teams.filter((team) => team.series !== null).length,
    ...topOfTeams(numbers, teams),
  };
}

/** Everything the check says. */
export function say(numbers: DigitNumbers, reading: Reading): Said {
  const given = values(numbers);
  const told = (part: string): Message => message(`${common}.${part}`, given);
  const kind = findingKind(numbers, reading);
  const noticed = isConcern(reading);
  const teams = noticedTeams(numbers).length > 0;
  const { overall } = numbers;
  return {
    finding: message(`checks.${numbers.measure.name}-digits.finding.${kind}`, given),
    meaning: [
      ...(overall === null ? [told(`meaning.${numbers.untestable}`)] : [told("meaning.numbers")]),
      ...(numbers.stepSpread > 0 ? [told("meaning.step")] : []),
      ...(noticed && overall !== null && overall.addedSpread > 0 ? [told("meaning.added-spread")] : []),
      ...(teams ? [told("meaning.teams")] : []),
      ...(noticed ? [] : [told("meaning.not-proof")]),
    ],
    causes: noticed ? [told("cause.rounding"), told(`cause.tool-${numbers.measure.name}`), told("cause.copying")] : [],
    actions: noticed
      ? [
          ...(teams ? [told("action.ask-teams")] : []),
          told(`action.tool-${numbers.measure.name}`),
          told("action.read-with-spread"),
        ]
      : [],
    method: [
      told("method.digits"),
      ...(overall === null ? [] : [told("method.statistics"), told("method.chance")]),
      ...(numbers.teams.length > 0 ? [told("method.teams")] : []),
      told("method.reading"),
    ],
  };
}
