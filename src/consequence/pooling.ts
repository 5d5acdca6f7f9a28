import { withInterval } from "./reestimate.js";
import type { Reestimate } from "./scenario.js";

/** Relative size of what adding up some thousand numbers in another order changes. */
const roundingNoise = 1e-12;

/** Equal but for the noise of binary fractions. */
function alike(one: number, other: number): boolean {
  return Math.abs(one - other) <= roundingNoise * Math.max(Math.abs(one), Math.abs(other));
}

/** The mean; of numbers that are all alike, the first of them. */
function meanOf(numbers: readonly number[]): number {
  const first = numbers[0] ?? Number.NaN;
  if (numbers.every((one) => alike(one, first))) return first;
  return numbers.reduce((sum, one) => sum + one, 0) / numbers.length;
}

/**
 * Combines the estimates of several completed data sets by Rubin's rules.
 *
 *   value    = mean of the m estimates
 *   total    = mean variance W + (1 + 1/m) B, with B the variance between the m estimates
 *   share    = (1 + 1/m) B / total
 *   df       = a b / (a + b),  a = (m - 1) / share^2,  b = (c + 1) / (c + 3) * c * (1 - share)
 *
 * where c is the design's own degrees of freedom. Estimates that are one and the same object were not drawn at all and
 * are given back as they are; values or variances that differ by the rounding of the arithmetic alone count as equal, and the
 * first stands for all, so that the noise of a sum is never taken for a change.
 * Rubin, Multiple Imputation for Nonresponse in Surveys, 1987 (value, variance); Barnard and Rubin, Biometrika
 * 1999;86:948-55 (degrees of freedom). From memory.
 */
export function pool(estimates: readonly Reestimate[]): Reestimate {
  const first = estimates[0];
  if (first === undefined) throw new Error("Nothing to pool: no completed data set was made.");
  if (estimates.every((one) => one === first)) return first;
  const m = estimates.length;
  const value = meanOf(estimates.map((one) => one.value));
  const within = meanOf(estimates.map((one) => one.variance));
  const sameValue = estimates.every((one) => alike(one.value, first.value));
  const between = sameValue ? 0 : estimates.reduce((sum, one) => sum + (one.value - value) ** 2, 0) / (m - 1);
  const added = (1 + 1 / m) * between;
  const total = within + added;
  const complete = Math.min(...estimates.map((one) => one.degreesOfFreedom));
  let degreesOfFreedom = complete;
  if (added > 0 && total > 0) {
    const share = added / total;
    const a = (m - 1) / share ** 2;
    const b = ((complete + 1) / (complete + 3)) * complete * (1 - share);
    degreesOfFreedom = (a * b) / (a + b);
  }
  const n = Math.min(...estimates.map((one) => one.n));
  const speaks = { ...first.speaks, members: inAll(estimates) };
  return withInterval(first.estimate, { estimate: value, variance: total, degreesOfFreedom, n }, speaks);
}

/** 1 for children whom every estimate tells of. */
function inAll(estimates: readonly Reestimate[]): Uint8Array {
  const [first, ...others] = estimates.map(({ speaks }) => speaks.members);
  return (first ?? new Uint8Array(0)).map((inside, i) => (others.every((members) => members[i] === 1) ? inside : 0));
}

/** Pools several runs over the same headlines, headline by headline. */
export function poolAll(runs: readonly (readonly Reestimate[])[]): Reestimate[] {
  const headlines = runs[0]?.length ?? 0;
  return Array.from({ length: headlines }, (_, h) => pool(runs.map((run) => run[h] as Reestimate)));
}
