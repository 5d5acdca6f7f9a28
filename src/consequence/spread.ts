import { usable } from "../derive/exclusions.js";
import { outcome, type ScoreCriterion, scoreCriterion } from "../derive/outcome.js";
import { message } from "../results/message.js";
import { estimateMean } from "../stats/design/mean.js";
import { estimateStandardDeviation } from "../stats/design/standard-deviation.js";
import { normalCumulative, normalDensity } from "../stats/normal.js";
import { withInterval } from "./reestimate.js";
import type { Headline, Reestimate, Scenario, ScenarioFile, World } from "./scenario.js";

/**
 * The spread that these lines assume the children would have without error. It is the spread of the standards' own
 * population, by construction (from memory); real populations are more mixed than that one, which is why these lines
 * are contested and never a corrected prevalence.
 */
export const assumedSpread = 1;

/** Amounts of added error, as multiples of the error variance, that the extrapolation rests on. Customary (Cook and Stefanski 1994, from memory). */
const multiples: readonly number[] = [0, 0.5, 1, 1.5, 2];

interface Excess {
  readonly criterion: ScoreCriterion;
  readonly z: Float64Array;
  /** Children with a z-score that counts, and those who are cases without one (oedema). */
  readonly scored: Uint8Array;
  readonly inDomain: Uint8Array;
  readonly standardDeviation: number;
}

function excessOf(world: World, headline: Headline): Excess | null {
  const criterion = scoreCriterion(headline.estimate.outcome);
  if (criterion === null) return null;
  const { z } = world.children.indices[criterion.index];
  const scored = usable(world.children, criterion.index, world.rule);
  const { inDomain } = outcome(world.children, headline.estimate.outcome, world.rule);
  const standardDeviation = estimateStandardDeviation(world.design, z, scored).estimate;
  return standardDeviation > assumedSpread ? { criterion, z, scored, inDomain, standardDeviation } : null;
}

/** The cut-off as compared with unrounded scores: scores are rounded to two decimals before they are compared. */
function cutOff({ side, cutOff: value }: ScoreCriterion): number {
  return side === "below" ? value - 0.005 : value + 0.005;
}

const tail = (u: number, side: "below" | "above"): number => normalCumulative(side === "below" ? u : -u);

/**
 * The estimate as the mean of one number a child: `ofScore` for a child with a z-score, 1 for a case without one. What
 * `ofScore` holds beside the estimate itself (deviations that add up to nothing) gives the mean the right variance.
 */
function meanOf(world: World, headline: Headline, excess: Excess, ofScore: (z: number) => number): Reestimate {
  const values = excess.z.map((z, i) => (excess.scored[i] === 1 ? ofScore(z) : 1));
  const mean = estimateMean(world.design, values, excess.inDomain);
  const { variance, degreesOfFreedom, n } = mean;
  // An extrapolation can end outside what a share can be (the nearest share then stands), and of a rare outcome it can be
  // less certain than large: neither has an interval that would say anything.
  const value = Math.min(1, Math.max(0, mean.estimate));
  const speaks = { members: excess.inDomain, isCase: null, atRandom: false };
  if (value !== mean.estimate || mean.standardError > mean.estimate) {
    return { estimate: headline.estimate.id, value, variance, degreesOfFreedom, n, speaks, low: null, high: null };
  }
  return withInterval(headline.estimate.id, { estimate: value, variance, degreesOfFreedom, n }, speaks);
}

/**
 * P(z beyond the cut-off) in a normal distribution with the survey's mean and the assumed spread, P(u) with
 * u = (c - mean) / spread. The mean's sampling error is carried by the deviations P'(u) (z - mean): the delta method.
 */
function normalModel(world: World, headline: Headline, excess: Excess): Reestimate {
  const mean = estimateMean(world.design, excess.z, excess.scored).estimate;
  const { side } = excess.criterion;
  const u = (cutOff(excess.criterion) - mean) / assumedSpread;
  const slope = ((side === "below" ? -1 : 1) * normalDensity(u)) / assumedSpread;
  return meanOf(world, headline, excess, (z) => tail(u, side) + slope * (z - mean));
}

/** Weights a_j with sum a_j f(x_j) = the least-squares parabola through the points (x_j, f(x_j)), read at `at`. */
export function quadraticExtrapolation(points: readonly number[], at: number): number[] {
  const power = (k: number): number => points.reduce((sum, x) => sum + x ** k, 0);
  const m = [
    [power(0), power(1), power(2), 1],
    [power(1), power(2), power(3), at],
    [power(2), power(3), power(4), at * at],
  ];
  for (let i = 0; i < 3; i++) {
    const pivot = m[i]?.[i] ?? Number.NaN;
    for (let j = 0; j < 3; j++) {
      if (j === i) continue;
      const factor = (m[j]?.[i] ?? 0) / pivot;
      m[j] = (m[j] ?? []).map((value, k) => value - factor * (m[i]?.[k] ?? 0));
    }
  }
  const b = m.map((row, i) => (row[3] ?? 0) / (row[i] ?? Number.NaN));
  return points.map((x) => (b[0] ?? 0) + (b[1] ?? 0) * x + (b[2] ?? 0) * x * x);
}

/** One child's part of the extrapolated prevalence, for a given error variance. */
function extrapolatedPart(
  z: number,
  criterion: ScoreCriterion,
  errorVariance: number,
  weights: readonly number[],
): number {
  const away = cutOff(criterion) - z;
  return multiples.reduce((sum, multiple, j) => {
    const u = multiple === 0 ? away * Number.POSITIVE_INFINITY : away / Math.sqrt(multiple * errorVariance);
    return sum + (weights[j] ?? 0) * (Number.isNaN(u) ? 0 : tail(u, criterion.side));
  }, 0);
}

/**
 * Simulation-extrapolation: add still more error, see how the prevalence grows, extrapolate back to none. The simulation
 * is replaced by its exact mean, case probability Phi((c - z) / (sqrt(multiple) errorSd)), so nothing is random here; the
 * extrapolated prevalence is then the mean of one number per child and gets its variance like any mean. The error
 * variance is itself estimated, s^2 - spread^2: its sampling error enters by the deviations D ((z - mean)^2 - s^2), with
 * D the derivative of the prevalence by it.
 */
function extrapolated(world: World, headline: Headline, excess: Excess): Reestimate {
  const { criterion, z, scored, standardDeviation } = excess;
  const weights = quadraticExtrapolation(multiples, -1);
  const errorVariance = standardDeviation ** 2 - assumedSpread ** 2;
  const mean = estimateMean(world.design, z, scored);
  const prevalenceAt = (variance: number): number =>
    estimateMean(
      world.design,
      z.map((one) => extrapolatedPart(one, criterion, variance, weights)),
      scored,
    ).estimate;
  const step = 0.01 * errorVariance;
  const derivative = (prevalenceAt(errorVariance + step) - prevalenceAt(errorVariance - step)) / (2 * step);
  const correction = mean.n / (mean.n - 1);
  return meanOf(
    world,
    headline,
    excess,
    (one) =>
      extrapolatedPart(one, criterion, errorVariance, weights) +
      derivative * (correction * (one - mean.estimate) ** 2 - standardDeviation ** 2),
  );
}

function scenarioFor(
  name: "normal" | "extrapolated",
  compute: (world: World, headline: Headline, excess: Excess) => Reestimate,
): Scenario {
  return {
    id: `spread/${name}`,
    group: "spread",
    label: message(`scenario.spread.${name}`, { spread: assumedSpread }),
    kind: "sensitivity",
    checks: ["spread"],
    note: message("scenario.spread.note", { spread: assumedSpread }),
    run: (world) => {
      const found = world.headlines.flatMap((headline) => {
        const excess = excessOf(world, headline);
        return excess === null ? [] : [compute(world, headline, excess)];
      });
      return found.length > 0
        ? found
        : { notPossible: message("scenario.spread.no-excess", { spread: assumedSpread }) };
    },
  };
}

/** All spread beyond the assumed one taken as measurement error: two lines that show how much would hang on that. */
export const spread: ScenarioFile = () => [
  scenarioFor("normal", normalModel),
  scenarioFor("extrapolated", extrapolated),
];
