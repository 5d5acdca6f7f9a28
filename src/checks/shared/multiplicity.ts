import { benjaminiHochberg } from "../../stats/false-discovery.js";
import { holm } from "../../stats/holm.js";

/** Probabilities of one check after allowing for how many were looked at. NaN stays NaN. */
export interface Adjusted {
  readonly overall: readonly number[];
  readonly families: readonly (readonly number[])[];
}

/** The smallest number of a list, skipping NaN; NaN when there is none. */
function least(values: readonly number[]): number {
  return values.reduce((low, value) => (Number.isNaN(low) || value < low ? value : low), Number.NaN);
}

/**
 * Adjusts the probabilities of one check together, so that a survey without faults is flagged by the whole check no
 * more often than the level says. Each family of groups (teams, areas) is first put through Benjamini and Hochberg's
 * false-discovery control; the smallest adjusted value of a family is itself a valid probability that nothing is wrong
 * in it (Simes), so it enters Holm's method as one component beside the overall ones. A group's own value is the
 * false-discovery value times the number of components (Bonferroni), so a group is never read as unusual where the
 * check as a whole would not be.
 */
export function adjustTogether(overall: readonly number[], families: readonly (readonly number[])[]): Adjusted {
  const discovered = families.map((family) => benjaminiHochberg(family));
  const together = [...overall, ...discovered.map(least)];
  const components = together.filter((value) => !Number.isNaN(value)).length;
  return {
    overall: holm(together).slice(0, overall.length),
    families: discovered.map((family) => family.map((value) => Math.min(1, value * components))),
  };
}
