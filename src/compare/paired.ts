import type { Block, Difference, Pair, PairedScenario } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { type Compared, comparedBy, isClearDifference, strength } from "./compared.js";
import { pairName } from "./pair-name.js";
import { type Case, pairedPicture, pairedSentence, pairedTable } from "./paired-drawing.js";
import { notPairable } from "./paired-scenarios.js";
import { isEstablished } from "./story-sentences.js";
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

/** The differences of one estimate, and those of them that were taken through the scenarios. */
interface OfEstimate {
  readonly all: readonly Compared[];
  /** Clear ones first, the strongest first. */
  readonly cases: readonly Case[];
}

/** Everything by estimate, each difference with what came of its scenarios. */
function byEstimate({ summaries, pairs, differences, scenarios }: PairedParts): Map<string, OfEstimate> {
  const ofDifference = new Map<string, PairedScenario[]>();
  for (const scenario of scenarios) {
    const key = `${scenario.pair} ${scenario.estimate}`;
    const known = ofDifference.get(key);
    if (known === undefined) ofDifference.set(key, [scenario]);
    else known.push(scenario);
  }
  const caseOf = (one: Compared): Case[] => {
    const { paired, pair, estimate } = one.difference;
    if (paired === undefined) return [];
    return [
      { ...one, difference: { ...one.difference, paired }, scenarios: ofDifference.get(`${pair} ${estimate}`) ?? [] },
    ];
  };
  const compared = comparedBy(summaries, pairs, differences, ({ difference }) => difference.estimate);
  return new Map([...compared].map(([estimate, all]) => [estimate, { all, cases: inOrder(all.flatMap(caseOf)) }]));
}

const inOrder = (cases: readonly Case[]): Case[] =>
  [...cases].sort((a, b) => Number(isClearDifference(b)) - Number(isClearDifference(a)) || strength(b) - strength(a));

/** The differences whose scenarios are pictured. */
export const picturedPairs = (parts: PairedParts): Difference[] =>
  [...byEstimate(parts).values()].flatMap(({ cases }) =>
    cases.slice(0, mostPictured).map(({ difference }) => difference),
  );

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
function unpaired(all: readonly Compared[]): Message[] {
  const reasons = new Map<string, { readonly reason: Message; count: number }>();
  for (const { difference, first, second } of all) {
    if (difference.verdict === "cannot-tell" || difference.paired !== undefined) continue;
    const reason = notPairable(first, second, difference.rule) ?? message("compare.paired.reason.nothing-moves");
    const known = reasons.get(JSON.stringify(reason)) ?? { reason, count: 0 };
    known.count += 1;
    reasons.set(JSON.stringify(reason), known);
  }
  return [...reasons.values()].map(({ reason, count }) => message("compare.paired.not-paired", { reason, count }));
}

function blockOf({ all, cases }: OfEstimate, estimate: string, allStored: boolean): Block | null {
  const without = unpaired(all);
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
  const clear = cases.filter(isClearDifference);
  const steady = clear.filter(({ difference }) => isEstablished(difference));
  const counts = { ...named, pairs: cases.length, clear: clear.length, steady: steady.length };
  const pictured = cases.slice(0, mostPictured);
  return {
    id: `paired-${estimate}`,
    title: message("compare.paired.title", named),
    finding: pairedSentence(main),
    meaning: [
      ...(cases.length > 1 ? [message("compare.paired.meaning.count", counts)] : []),
      ...pictured.flatMap(moverMessage),
      message("compare.paired.meaning.read"),
      ...without,
    ],
    cautions: [message("compare.paired.caution")],
    charts: pictured.map(pairedPicture),
    tables: [pairedTable(estimate, cases)],
    method: [...["matched", "absent", "left-out", "verdict", "counted"], ...(allStored ? [] : ["stored"])].map((id) =>
      message(`compare.paired.method.${id}`),
    ),
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
  const found = byEstimate(parts);
  return estimates
    .filter((id) => taken(id) || (without && !id.startsWith("mean-")))
    .flatMap((id) => blockOf(found.get(id) ?? { all: [], cases: [] }, id, stored === parts.scenarios.length) ?? []);
}
