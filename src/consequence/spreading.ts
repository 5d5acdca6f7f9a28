import type { RandomStream } from "../stats/random.js";

/**
 * A rounded value put back into the interval it was rounded into. For every child: with probability `wholeShare` it was
 * rounded to a whole unit and lies within `wholeReach` offsets of the record, with `halfShare` to a half unit and within
 * `halfReach`, else it stands as recorded.
 */
export interface Rounding {
  readonly wholeShare: Float64Array;
  readonly halfShare: Float64Array;
  /** Offsets on either side, in steps of the candidates. */
  readonly wholeReach: number;
  readonly halfReach: number;
  /** True where the ends of a half unit's interval are as near to the next half unit, as the ends of a whole unit's always are. */
  readonly halfEndsShared: boolean;
}

/**
 * Splits the terminal categories of one group into exact readings and excess. With u the mean count of the categories
 * that are neither whole nor half, the count at a half point beyond u was rounded to halves, and the count at a whole
 * point beyond u and beyond its own part of the halves was rounded to whole units:
 *
 *   halves  = max(0, half - u)      (these fall on half points; as many again fall on whole points)
 *   wholes  = max(0, whole - u - halves)
 *
 * Returns the share of the readings at a whole point that were rounded to whole units, at a whole point to halves, and
 * at a half point to halves. Counts are per point (a mean over several points is fine).
 */
export function excessShares(
  whole: number,
  half: number,
  other: number,
): { readonly wholeToWhole: number; readonly wholeToHalf: number; readonly halfToHalf: number } {
  const halves = Math.max(0, half - other);
  const atWhole = Math.max(0, whole - other);
  const wholes = Math.max(0, atWhole - halves);
  return {
    wholeToWhole: whole > 0 ? wholes / whole : 0,
    wholeToHalf: whole > 0 ? (atWhole - wholes) / whole : 0,
    halfToHalf: half > 0 ? halves / half : 0,
  };
}

/**
 * One offset from -reach to +reach, in proportion to exp(log weight); `logWeights` starts at -reach. Where the ends are
 * shared they count half: the value there is as near to the next rounded one. 0 where none is possible.
 */
function drawOffset(logWeights: readonly number[], reach: number, endsShared: boolean, random: RandomStream): number {
  const highest = Math.max(...logWeights);
  if (!Number.isFinite(highest)) return 0;
  const weights = logWeights.map((value, k) => {
    const weight = Math.exp(value - highest);
    return endsShared && (k === 0 || k === 2 * reach) ? weight / 2 : weight;
  });
  let left = random.uniform() * weights.reduce((sum, weight) => sum + weight, 0);
  for (let k = 0; k < weights.length; k++) {
    left -= weights[k] ?? 0;
    if (left <= 0) return k - reach;
  }
  return 0;
}

/**
 * Draws an offset for every child: first whether and how it was rounded, then where in that interval, each place as
 * likely as it is plausible. `plausibility[k + reach][i]` is the log density of child i with offset k.
 */
export function drawOffsets(
  rounding: Rounding,
  plausibility: readonly Float64Array[],
  reach: number,
  random: RandomStream,
): Int32Array {
  const count = rounding.wholeShare.length;
  const offsets = new Int32Array(count);
  for (let i = 0; i < count; i++) {
    const whole = rounding.wholeShare[i] ?? 0;
    const half = rounding.halfShare[i] ?? 0;
    if (whole + half <= 0) continue;
    const kind = random.uniform();
    if (kind >= whole + half) continue;
    const toWhole = kind < whole;
    const own = toWhole ? rounding.wholeReach : rounding.halfReach;
    const logWeights = Array.from({ length: 2 * own + 1 }, (_, k) => {
      const value = plausibility[k - own + reach]?.[i] ?? Number.NaN;
      return Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value;
    });
    offsets[i] = drawOffset(logWeights, own, toWhole || rounding.halfEndsShared, random);
  }
  return offsets;
}
