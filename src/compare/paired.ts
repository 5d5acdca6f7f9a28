import type { Block, Difference, Pair, PairedScenario } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { pairName } from "./pair-name.js";
import { type Case, pairedPicture, pairedSentence, pairedTable } from "./paired-drawing.js";
import { notPairable } from "./paired-scenarios.js";
import type { SurveySummary } from "./summary.js";

/** Pictures of single pairs in one block; the table has all. */
const mostPictured = 3;

/** Everything the blocks of paired scenarios are made of. */
export interface PairedParts {
  readonly summaries: readonly SurveySummary[];
  readonly pairs: readonly Pair[];
  /** With the number of paired scenarios. */
  readonly differences: readonly Difference[];
  readonly scenarios: readonly PairedScenario[];
}

function casesOf({ summaries, pairs, differences, scenarios }: PairedParts, estimate: string): Case[] {
  const survey = new Map(summaries.map((one) => [one.key, one]));
  const pairOf = new Map(pairs.map((pair) => [pair.id, pair]));
  const byPair = new Map<string, PairedScenario[]>();
  for (const scenario of scenarios) {
    if (scenario.estimate !== estimate) continue;
    const known = byPair.get(scenario.pair);
    if (known === undefined) byPair.set(scenario.pair, [scenario]);
    else known.push(scenario);
  }
  return differences.flatMap((difference) => {
    const pair = pairOf.get(difference.pair);
    const first = survey.get(pair?.first ?? "");
    const second = survey.get(pair?.second ?? "");
    const { paired } = difference;
    if (difference.estimate !== estimate || paired === undefined) return [];
    if (pair === undefined || first === undefined || second === undefined) return [];
    const own = byPair.get(difference.pair) ?? [];
    return [{ difference: { ...difference, paired }, pair, first, second, scenarios: own }];
  });
}

const isClear = ({ difference }: Case): boolean => difference.verdict === "rise" || difference.verdict === "fall";
const strength = ({ difference }: Case): number =>
  Math.abs((difference.difference ?? 0) / (difference.standardError ?? Number.POSITIVE_INFINITY));

/** Clear differences first, the strongest first. */
const inOrder = (cases: readonly Case[]): Case[] =>
  [...cases].sort((a, b) => Number(isClear(b)) - Number(isClear(a)) || strength(b) - strength(a));

/** The differences of an estimate whose scenarios are pictured. */
export const picturedPairs = (parts: PairedParts, estimate: string): Difference[] =>
  inOrder(casesOf(parts, estimate))
    .slice(0, mostPictured)
    .map(({ difference }) => difference);

function moverMessage(one: Case): Message[] {
  const { movers } = one.difference.paired;
  const named = movers.slice(0, 3).flatMap((id) => {
    const scenario = one.scenarios.find((candidate) => candidate.scenario === id);
    if (scenario?.difference == null || scenario.interval === null) return [];
    const { low, high } = scenario.interval;
    const values = { scenario: scenario.label, difference: scenario.difference, low, high };
    return [message("compare.paired.mover", values)];
  });
  if (named.length === 0) return [];
  const pair = pairName(one.pair, one.first, one.second);
  return [message("compare.paired.movers", { pair, movers: named, more: movers.length - named.length })];
}

/** Pairs of which no scenario could be paired, with the reason, each reason once. */
function unpaired(parts: PairedParts, estimate: string): Message[] {
  const survey = new Map(parts.summaries.map((one) => [one.key, one]));
  const reasons = new Map<string, { readonly reason: Message; count: number }>();
  for (const difference of parts.differences) {
    if (difference.estimate !== estimate || difference.verdict === "cannot-tell" || difference.paired) continue;
    const pair = parts.pairs.find(({ id }) => id === difference.pair);
    const first = survey.get(pair?.first ?? "");
    const second = survey.get(pair?.second ?? "");
    if (first === undefined || second === undefined) continue;
    const reason = notPairable(first, second, difference.rule) ?? message("compare.paired.reason.nothing-moves");
    const known = reasons.get(JSON.stringify(reason)) ?? { reason, count: 0 };
    known.count += 1;
    reasons.set(JSON.stringify(reason), known);
  }
  return [...reasons.values()].map(({ reason, count }) => message("compare.paired.not-paired", { reason, count }));
}

function blockOf(parts: PairedParts, estimate: string, stored: number): Block | null {
  const cases = inOrder(casesOf(parts, estimate));
  const without = unpaired(parts, estimate);
  const named = { estimate: message(`estimate.${estimate}`) };
  const [main] = cases;
  if (main === undefined) {
    const [reason] = without;
    if (reason === undefined) return null;
    return {
      id: `paired-${estimate}`,
      title: message("compare.paired.title", named),
      finding: message("compare.paired.finding.none", named),
      reading: "unknown",
      meaning: without,
      cautions: [],
      charts: [],
      tables: [],
      method: [],
      sources: [],
    };
  }
  const clear = cases.filter(isClear);
  const steady = clear.filter(({ difference }) => difference.paired.stands === difference.paired.total);
  const counts = { ...named, pairs: cases.length, clear: clear.length, steady: steady.length };
  const pictured = cases.slice(0, mostPictured);
  return {
    id: `paired-${estimate}`,
    title: message("compare.paired.title", named),
    finding: pairedSentence(main) ?? message("compare.paired.title", named),
    meaning: [
      ...(cases.length > 1 ? [message("compare.paired.meaning.count", counts)] : []),
      ...pictured.flatMap(moverMessage),
      message("compare.paired.meaning.read"),
      ...without,
    ],
    cautions: [message("compare.paired.caution")],
    charts: pictured.map(pairedPicture),
    tables: [pairedTable(estimate, cases)],
    method: [
      ...["matched", "absent", "left-out", "verdict", "counted"],
      ...(stored < parts.scenarios.length ? ["stored"] : []),
    ].map((id) => message(`compare.paired.method.${id}`)),
    sources: ["variance-components", "benjamini-hochberg-1995"],
  };
}

/**
 * One block for each estimate that scenarios re-estimate: does a difference stand when both surveys change alike? `stored`: how many
 * of the scenarios the comparison's files hold.
 */
export function pairedBlocks(
  parts: PairedParts,
  estimates: readonly string[],
  stored = parts.scenarios.length,
): Block[] {
  const without = parts.summaries.every(({ scenarios }) => scenarios.length === 0);
  // Means, and prevalences that scenarios do not take up, have nothing to be paired; that is no finding about them.
  const taken = (id: string): boolean =>
    parts.summaries.some(({ scenarios }) => scenarios.some(({ outcomes }) => outcomes.has(id)));
  return estimates
    .filter((id) => taken(id) || (without && !id.startsWith("mean-")))
    .flatMap((estimate) => blockOf(parts, estimate, stored) ?? []);
}
