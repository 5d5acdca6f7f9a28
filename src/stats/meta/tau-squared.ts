import { chiSquareQuantile } from "../chi-square.js";
import { confidenceLevel } from "../confidence.js";
import { poolStudies, type Studies } from "./pool.js";

/** The variance between studies, in squared units of the estimate. NaN with fewer than two studies. */
export interface TauSquared {
  readonly tauSquared: number;
  /** Q-profile limits. */
  readonly low: number;
  readonly high: number;
  readonly level: number;
}

/** Steps of the search along the likelihood, each about 1.5 times the last, from a hundred-millionth of the squared range. */
const gridSteps = 48;

/**
 * Variance between studies by restricted maximum likelihood, with its Q-profile interval.
 *
 * With w = 1 / (v + t) and the mean by those weights, the restricted log-likelihood is
 *
 *   -(1/2) [ sum ln(v + t) + ln(sum w) + sum w (y - mean)^2 ]
 *
 * It can have two peaks, so the highest point of a grid from 0 to the squared range of the estimates is taken first, and the root
 * of the derivative beside it by bisection. The interval holds all t for which Q(t) = sum w (y - mean)^2 lies between the
 * quantiles of the chi-square with k - 1 degrees of freedom, cut off at 0.
 *
 * Source: Viechtbauer, J Educ Behav Stat 2005;30:261-93 (likelihood) and Stat Med 2007;26:37-52 (Q-profile), both from memory;
 * checked against R's metafor.
 *
 * @param studies as `usableStudies` gives them
 */
export function tauSquaredOf(studies: Studies, level = confidenceLevel): TauSquared {
  const k = studies.values.length;
  if (k < 2) return { tauSquared: Number.NaN, low: Number.NaN, high: Number.NaN, level };
  const tail = (1 - level) / 2;
  return {
    tauSquared: restrictedMaximum(studies),
    low: whereQIs(studies, chiSquareQuantile(1 - tail, k - 1)),
    high: whereQIs(studies, chiSquareQuantile(tail, k - 1)),
    level,
  };
}

function restrictedMaximum(studies: Studies): number {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (const value of studies.values) {
    lowest = Math.min(lowest, value);
    highest = Math.max(highest, value);
  }
  const most = (highest - lowest) ** 2;
  if (!(most > 0)) return 0;
  const grid = Array.from({ length: gridSteps }, (_, i) => (i === 0 ? 0 : most * 1e-8 ** (1 - i / (gridSteps - 1))));
  const likelihoods = grid.map((t) => restrictedLogLikelihood(studies, t));
  let best = 0;
  for (let i = 1; i < grid.length; i++) if ((likelihoods[i] as number) > (likelihoods[best] as number)) best = i;
  if (best === 0 && likelihoodSlope(studies, 0) <= 0) return 0;
  const from = grid[Math.max(0, best - 1)] as number;
  return root((t) => likelihoodSlope(studies, t), from, grid[best + 1] ?? 4 * most);
}

function restrictedLogLikelihood(studies: Studies, tauSquared: number): number {
  let sum = 0;
  for (const variance of studies.variances) sum += Math.log(variance + tauSquared);
  const { q, variance } = poolStudies(studies, tauSquared);
  return -(sum - Math.log(variance) + q) / 2;
}

/** Twice the derivative of the restricted log-likelihood: sum w^2 (y - mean)^2 - sum w + sum w^2 / sum w. */
function likelihoodSlope(studies: Studies, tauSquared: number): number {
  const { estimate } = poolStudies(studies, tauSquared);
  let squares = 0;
  let weights = 0;
  let squaredWeights = 0;
  for (let i = 0; i < studies.values.length; i++) {
    const weight = 1 / ((studies.variances[i] as number) + tauSquared);
    squares += weight ** 2 * ((studies.values[i] as number) - estimate) ** 2;
    weights += weight;
    squaredWeights += weight ** 2;
  }
  return squares - weights + squaredWeights / weights;
}

/** The t at which Q(t), which falls as t grows, comes down to a value; 0 where it is below already. */
function whereQIs(studies: Studies, wanted: number): number {
  const above = (t: number): number => poolStudies(studies, t).q - wanted;
  if (above(0) <= 0) return 0;
  let high = Math.max(...studies.variances);
  while (above(high) > 0) high *= 2;
  return root(above, 0, high);
}

/** Where a function that is above 0 at `low` and not above 0 at `high` crosses: halved until the numbers are neighbours. */
function root(of: (t: number) => number, low: number, high: number): number {
  let [from, to] = [low, high];
  for (let step = 0; step < 200; step++) {
    const middle = (from + to) / 2;
    if (middle === from || middle === to) break;
    if (of(middle) > 0) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
}
