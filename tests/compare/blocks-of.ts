import { changesOf } from "../../src/compare/changes.js";
import { comparabilityOf } from "../../src/compare/comparability.js";
import { differencesOf } from "../../src/compare/differences.js";
import { levelsOf } from "../../src/compare/levels.js";
import { pairsOf } from "../../src/compare/pairs.js";
import { pooledOf } from "../../src/compare/pooled.js";
import type { SurveySummary } from "../../src/compare/summary.js";
import { makeCell, makeEstimate, makeSummary } from "./make-summary.js";
import { makeSettings } from "./settings.js";

/** The blocks that estimates alone make, by the program's own way. */
export function blocksOf(summaries: readonly SurveySummary[]) {
  const settings = makeSettings();
  const comparability = comparabilityOf(summaries, settings);
  const pairs = pairsOf(summaries, settings);
  const differences = differencesOf(pairs, summaries, comparability);
  const parts = { summaries, pairs, differences, comparability, pooled: pooledOf(comparability) };
  return { comparability: comparability.block, levels: levelsOf(parts), changes: changesOf(parts), differences };
}

/** A survey of a place by number with wasting at a value, and a mean that goes with it. */
export const place = (i: number, value: number, given: Parameters<typeof makeSummary>[1] = {}) =>
  makeSummary(`p${i}`, {
    place: `P${i}`,
    estimates: [
      makeEstimate("wasting", makeCell(value, 0.012)),
      makeEstimate("mean-weight-for-height", makeCell(-0.5 - value, 0.05)),
    ],
    ...given,
  });
/** A later round, in another season. */
export const later = { round: "2024-10", firstDay: "2024-10-07", lastDay: "2024-10-17" };
