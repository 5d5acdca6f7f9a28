import type { RandomStream } from "../stats/random.js";

/** Offsets from a rounded value, in steps, that would have been rounded to it. */
interface Reach {
  readonly from: number;
  readonly to: number;
  /** True where the two ends are as near to the next rounded value: each then counts half. */
  readonly endsShared: boolean;
}

/** How likely each child's value was rounded to a whole unit, or to a half one; and what such a value can stand for. */
export interface Rounding {
  readonly wholeShare: Float64Array;
  readonly halfShare: Float64Array;
  readonly whole: Reach;
  readonly half: Reach;
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

/** For every child that may have been rounded: the probability of each offset. */
export interface OffsetTable {
  /** The children, as positions in the columns. */
  readonly rounded: Int32Array;
  /** The lowest offset, and how many there are. */
  readonly from: number;
  readonly width: number;
  /** Row by row, one row a child of `rounded`; each row sums to 1. */
  readonly probability: Float64Array;
}

/** Log density of a child at an offset; NaN where the child could not be there. */
export type LogDensity = (child: number, offset: number) => number;

/** Adds `share` to a row, spread over the offsets of a reach in proportion to exp(log density); all at 0 where none is possible. */
function addReach(
  row: Float64Array,
  from: number,
  reach: Reach,
  share: number,
  logDensity: (k: number) => number,
): void {
  if (share <= 0) return;
  let highest = Number.NEGATIVE_INFINITY;
  for (let k = reach.from; k <= reach.to; k++) {
    const value = logDensity(k);
    if (value > highest) highest = value;
  }
  const weightAt = (k: number): number => {
    const value = Math.exp(logDensity(k) - highest);
    if (Number.isNaN(value)) return 0;
    return reach.endsShared && (k === reach.from || k === reach.to) ? value / 2 : value;
  };
  let sum = 0;
  for (let k = reach.from; k <= reach.to; k++) sum += weightAt(k);
  if (!Number.isFinite(highest) || !(sum > 0)) {
    row[-from] = (row[-from] ?? 0) + share;
    return;
  }
  for (let k = reach.from; k <= reach.to; k++) row[k - from] = (row[k - from] ?? 0) + (share * weightAt(k)) / sum;
}

/**
 * Where each rounded value may have come from: with the child's probability of having been rounded to a whole or a half
 * unit it lies within that unit's reach, each place as likely as it is plausible; else it stands as recorded.
 */
export function offsetTable(rounding: Rounding, logDensity: LogDensity): OffsetTable {
  const { wholeShare, halfShare, whole, half } = rounding;
  const chance = wholeShare.map((share, i) => share + (halfShare[i] ?? 0));
  const rounded = Int32Array.from(chance.keys()).filter((i) => (chance[i] ?? 0) > 0);
  const from = Math.min(whole.from, half.from);
  const width = Math.max(whole.to, half.to) - from + 1;
  const probability = new Float64Array(rounded.length * width);
  rounded.forEach((child, place) => {
    const row = probability.subarray(place * width, (place + 1) * width);
    const own = (k: number): number => logDensity(child, k);
    row[-from] = Math.max(0, 1 - (chance[child] ?? 0));
    addReach(row, from, whole, wholeShare[child] ?? 0, own);
    addReach(row, from, half, halfShare[child] ?? 0, own);
  });
  return { rounded, from, width, probability };
}

/** Draws an offset for every child of the table; 0 for all others. */
export function drawOffsets(table: OffsetTable, count: number, random: RandomStream): Int32Array {
  const offsets = new Int32Array(count);
  const { rounded, from, width, probability } = table;
  for (let place = 0; place < rounded.length; place++) {
    let left = random.uniform();
    let k = 0;
    while (k < width - 1) {
      left -= probability[place * width + k] ?? 0;
      if (left <= 0) break;
      k += 1;
    }
    offsets[rounded[place] ?? 0] = k + from;
  }
  return offsets;
}
