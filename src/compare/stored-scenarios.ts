import type { PairedScenario } from "../results/comparison.js";
import type { CompareSettings } from "./compare-settings.js";
import { type PairedParts, picturedPairs } from "./paired.js";
import { pairsNamed } from "./pairs.js";

/** Up to so many paired scenarios are all stored; of more, nobody reads each, and they would be most of the output. */
export const mostStored = 20_000;

const keyOf = ({ pair, estimate }: { readonly pair: string; readonly estimate: string }): string =>
  `${pair} ${estimate}`;

/** Differences of which every paired scenario is stored: those pictured, and those of the pairs that the settings name. */
function storedWhole(parts: PairedParts, settings: Pick<CompareSettings, "pairs">): ReadonlySet<string> {
  const named = pairsNamed(parts.summaries, settings).found;
  const ids = new Set(named.flatMap(({ id, first, second }) => [id, `${second}..${first}`]));
  return new Set([...picturedPairs(parts), ...parts.differences.filter(({ pair }) => ids.has(pair))].map(keyOf));
}

/**
 * The paired scenarios that the comparison keeps: all of them while they are few; else all of the pairs that are pictured or that
 * the settings name, and of the others those that change the answer. How many there were stands with each difference.
 */
export function storedScenarios(
  parts: PairedParts,
  settings: Pick<CompareSettings, "pairs">,
  most = mostStored,
): readonly PairedScenario[] {
  if (parts.scenarios.length <= most) return parts.scenarios;
  const whole = storedWhole(parts, settings);
  const movers = new Set(
    parts.differences.flatMap((one) => (one.paired?.movers ?? []).map((scenario) => `${keyOf(one)} ${scenario}`)),
  );
  return parts.scenarios.filter((one) => whole.has(keyOf(one)) || movers.has(`${keyOf(one)} ${one.scenario}`));
}
