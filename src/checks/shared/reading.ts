import type { Reading } from "../../results/schema.js";
import { withholdBelow } from "../../results/withhold-below.js";

/** From which size a departure is worth a word, and from which it matters for the estimates; in the check's own unit. */
export interface SizeLimits {
  readonly explain: number;
  readonly doubt: number;
}

/** The chance levels of all readings: own choice, the usual 5% and, for a strong word, a thousandth. */
export const chanceLevel = { explain: 0.05, doubt: 0.001 } as const;

/** Fewest children a check or one of its groups is read on: as many as are told of. */
export const fewestChildren = withholdBelow;

/**
 * Reads a departure: 'explain' needs both a probability beyond the 5% level and a size that matters in practice,
 * 'doubt' both the 0.1% level and the larger size. A probability or size that could not be computed reads 'unknown'.
 */
export function readDeparture(probability: number, size: number, limits: SizeLimits): Reading {
  if (Number.isNaN(probability) || Number.isNaN(size)) return "unknown";
  if (probability < chanceLevel.doubt && size >= limits.doubt) return "doubt";
  return probability < chanceLevel.explain && size >= limits.explain ? "explain" : "expected";
}

const weight: Readonly<Record<Reading, number>> = { unknown: 0, expected: 1, explain: 2, doubt: 3 };

/** The most serious of several readings; 'unknown' counts only where nothing else is known. */
export function mostSerious(readings: readonly Reading[]): Reading {
  return readings.reduce<Reading>((worst, reading) => (weight[reading] > weight[worst] ? reading : worst), "unknown");
}

/** Share of all children that a group must hold before 'doubt' about it becomes 'doubt' about the survey: own judgement. */
const shareThatCarries = 0.1;

/**
 * What the readings of the groups of a check mean for the whole: a group that needs explaining makes the check need
 * explaining; groups in doubt make it doubtful only where together they hold a tenth of the children or more.
 */
export function readGroupsTogether(
  groups: readonly { readonly n: number; readonly reading: Reading }[],
  children: number,
): Reading {
  const doubted = groups.reduce((sum, group) => sum + (group.reading === "doubt" ? group.n : 0), 0);
  if (doubted >= shareThatCarries * children && doubted > 0) return "doubt";
  const readings = groups.map((group) => (group.reading === "doubt" ? "explain" : group.reading));
  return mostSerious(readings);
}
