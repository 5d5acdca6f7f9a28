import type { Children, IndexId } from "../derive/children.js";
import { usable } from "../derive/exclusions.js";

/**
 * How plausible a child's pair of z-scores is: the log density of a bivariate normal distribution with the means,
 * standard deviations and correlation of the children that nothing was found wrong with. With one z-score missing the
 * other one's own normal density; with both missing 0, so that every candidate is as plausible as the next.
 */
export type PairPlausibility = (first: number, second: number) => number;

interface PairMoments {
  readonly n: number;
  readonly firstMean: number;
  readonly secondMean: number;
  readonly firstSd: number;
  readonly secondSd: number;
  readonly correlation: number;
}

function pairMoments(first: Float64Array, second: Float64Array, kept: Uint8Array): PairMoments {
  let n = 0;
  let a = 0;
  let b = 0;
  for (let i = 0; i < kept.length; i++) {
    if (kept[i] !== 1) continue;
    n += 1;
    a += first[i] ?? 0;
    b += second[i] ?? 0;
  }
  const firstMean = a / n;
  const secondMean = b / n;
  let aa = 0;
  let bb = 0;
  let ab = 0;
  for (let i = 0; i < kept.length; i++) {
    if (kept[i] !== 1) continue;
    const da = (first[i] ?? 0) - firstMean;
    const db = (second[i] ?? 0) - secondMean;
    aa += da * da;
    bb += db * db;
    ab += da * db;
  }
  const correlation = aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0;
  return { n, firstMean, secondMean, firstSd: Math.sqrt(aa / n), secondSd: Math.sqrt(bb / n), correlation };
}

/** Fewer unaffected children than this cannot say what is plausible: then all children are used. Own judgement. */
const fewestUnaffected = 50;

/**
 * Fits the pair's distribution on the children not marked in `affected`, inside the fixed limits; on all children where
 * too few are unaffected (their spread then still holds what the fault adds: the change is understated a little).
 */
export function pairPlausibility(
  children: Children,
  firstIndex: IndexId,
  secondIndex: IndexId,
  affected: Uint8Array,
): PairPlausibility {
  const first = children.indices[firstIndex].z;
  const second = children.indices[secondIndex].z;
  const firstUsable = usable(children, firstIndex, "fixed");
  const secondUsable = usable(children, secondIndex, "fixed");
  const both = Uint8Array.from(firstUsable, (ok, i) => (ok === 1 && secondUsable[i] === 1 ? 1 : 0));
  const unaffected = both.map((ok, i) => (ok === 1 && affected[i] !== 1 ? 1 : 0));
  const enough = unaffected.reduce((sum, ok) => sum + ok, 0) >= fewestUnaffected;
  const fit = pairMoments(first, second, enough ? unaffected : both);
  if (!(fit.n >= 2) || !(fit.firstSd > 0) || !(fit.secondSd > 0)) return () => 0;
  const rest = 1 - Math.min(0.99, Math.abs(fit.correlation)) ** 2;
  return (x, y) => {
    const u = (x - fit.firstMean) / fit.firstSd;
    const v = (y - fit.secondMean) / fit.secondSd;
    if (Number.isNaN(u) && Number.isNaN(v)) return 0;
    if (Number.isNaN(v)) return -(u * u) / 2;
    if (Number.isNaN(u)) return -(v * v) / 2;
    return -(u * u - 2 * fit.correlation * u * v + v * v) / (2 * rest);
  };
}
