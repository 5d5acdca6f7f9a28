/** What the expected ages rest on, as in the settings. */
export interface AgeExpectation {
  /** Deaths before age five per 1,000 births. */
  readonly underFiveMortality: number;
  /** Yearly growth of births, 0.02 for two in a hundred. */
  readonly growthOfBirths: number;
}

/**
 * How deaths before five fall over age: 45% in the first month, 30% in months 1-11, 25% in months 12-59, evenly within
 * each. Own working figures (computed, not published): halving or doubling mortality moves the expected ratio of
 * 6-29 to 30-59 months by about 0.01 only.
 */
const deaths: readonly { readonly from: number; readonly to: number; readonly share: number }[] = [
  { from: 0, to: 1, share: 0.45 },
  { from: 1, to: 12, share: 0.3 },
  { from: 12, to: 60, share: 0.25 },
];

/**
 * Nodes and weights of Gauss-Legendre quadrature with five points on -1 to 1 (Abramowitz and Stegun 1964, table 25.4):
 * exact for polynomials of degree nine, so to machine precision for a straight line times exp(-r x) over four years.
 * The closed form loses its digits when births hardly grow.
 */
const nodes: readonly (readonly [number, number])[] = [
  [-0.906179845938664, 0.2369268850561891],
  [-0.5384693101056831, 0.4786286704993665],
  [0, 128 / 225],
  [0.5384693101056831, 0.4786286704993665],
  [0.906179845938664, 0.2369268850561891],
];

/** Integral of (level - slope * (x - start)) * exp(-rate * x) over from..to; months. */
function pieceArea(from: number, to: number, start: number, level: number, slope: number, rate: number): number {
  const half = (to - from) / 2;
  const middle = (from + to) / 2;
  return nodes.reduce((sum, [node, weight]) => {
    const x = middle + half * node;
    return sum + half * weight * (level - slope * (x - start)) * Math.exp(-rate * x);
  }, 0);
}

/**
 * Children expected between two ages in months, up to a constant: the integral of l(x) exp(-r x), with l(x) the share
 * of births alive at age x and r the growth of births (a stable population). Ages 0-60 months; errors: none.
 */
export function expectedChildren(from: number, to: number, expectation: AgeExpectation): number {
  const rate = expectation.growthOfBirths / 12;
  const mortality = expectation.underFiveMortality / 1000;
  let alive = 1;
  let sum = 0;
  for (const piece of deaths) {
    const low = Math.max(from, piece.from);
    const high = Math.min(to, piece.to);
    const slope = (mortality * piece.share) / (piece.to - piece.from);
    if (high > low) sum += pieceArea(low, high, piece.from, alive, slope, rate);
    alive -= mortality * piece.share;
  }
  return sum;
}

/** Expected shares of children in consecutive age bands; `bounds` in months, one more than bands; sums to 1. */
export function expectedAgeShares(bounds: readonly number[], expectation: AgeExpectation): number[] {
  const areas = bounds.slice(1).map((to, i) => expectedChildren(bounds[i] as number, to, expectation));
  const total = areas.reduce((sum, area) => sum + area, 0);
  return areas.map((area) => area / total);
}
