import { type LogDensity, type OffsetTable, offsetTable, type Rounding } from "./spreading.js";

/** A pair of z-scores of every child at every offset of its rounded value, `from` first: columns[offset - from][child]. */
export interface Candidates {
  readonly from: number;
  readonly first: readonly Float64Array[];
  readonly second: readonly Float64Array[];
  /**
   * What turns a density of z-scores into one of the measurement: the log of how fast the z-scores change with it. NaN
   * where a child could not be at that offset. Null where it hardly differs from one offset to the next.
   */
  readonly logRate: readonly Float64Array[] | null;
  /** 1 for the children the distribution is fitted on. */
  readonly kept: Uint8Array;
}

/** Moments of a bivariate normal distribution. */
interface Pair {
  readonly firstMean: number;
  readonly secondMean: number;
  readonly firstSd: number;
  readonly secondSd: number;
  readonly correlation: number;
}

/** Rounds of fitting and placing; each brings the fitted spread nearer to that before rounding, and three are nearly enough. */
const rounds = 6;

/** Sums from which the moments follow. */
type Sums = [n: number, a: number, b: number, aa: number, bb: number, ab: number];

function add(sums: Sums, weight: number, a: number, b: number): void {
  if (Number.isNaN(a) || Number.isNaN(b)) return;
  sums[0] += weight;
  sums[1] += weight * a;
  sums[2] += weight * b;
  sums[3] += weight * a * a;
  sums[4] += weight * b * b;
  sums[5] += weight * a * b;
}

/** The pair's distribution; null where there are too few children, or no spread, to speak of one. */
function pairOf([n, a, b, aa, bb, ab]: Sums): Pair | null {
  if (!(n >= 2)) return null;
  const firstMean = a / n;
  const secondMean = b / n;
  const firstSd = Math.sqrt(aa / n - firstMean ** 2);
  const secondSd = Math.sqrt(bb / n - secondMean ** 2);
  if (!(firstSd > 0) || !(secondSd > 0)) return null;
  const correlation = (ab / n - firstMean * secondMean) / (firstSd * secondSd);
  return { firstMean, secondMean, firstSd, secondSd, correlation: Math.min(0.99, Math.max(-0.99, correlation)) };
}

/** Sums over the kept children; those of the table count at each offset with its probability. */
function sumsOf({ from, first, second, kept }: Candidates, table: OffsetTable | null): Sums {
  const sums: Sums = [0, 0, 0, 0, 0, 0];
  const spread = new Uint8Array(kept.length);
  if (table !== null) for (const child of table.rounded) spread[child] = 1;
  const asRecorded = [first[-from], second[-from]] as const;
  for (let i = 0; i < kept.length; i++) {
    if (kept[i] !== 1 || spread[i] === 1) continue;
    add(sums, 1, asRecorded[0]?.[i] ?? Number.NaN, asRecorded[1]?.[i] ?? Number.NaN);
  }
  table?.rounded.forEach((child, place) => {
    if (kept[child] !== 1) return;
    for (let k = 0; k < table.width; k++) {
      const weight = table.probability[place * table.width + k] ?? 0;
      if (weight > 0) add(sums, weight, first[k]?.[child] ?? Number.NaN, second[k]?.[child] ?? Number.NaN);
    }
  });
  return sums;
}

/** Log density of a pair; of the one z-score where the other is missing; 0 where both are, so that no offset is favoured. */
function logDensityOf(fit: Pair, x: number, y: number): number {
  const u = (x - fit.firstMean) / fit.firstSd;
  const v = (y - fit.secondMean) / fit.secondSd;
  if (Number.isNaN(u) && Number.isNaN(v)) return 0;
  if (Number.isNaN(v)) return -(u * u) / 2;
  if (Number.isNaN(u)) return -(v * v) / 2;
  return -(u * u - 2 * fit.correlation * u * v + v * v) / (2 * (1 - fit.correlation ** 2));
}

/**
 * Where rounded values may have come from, each offset as likely as it is plausible. How plausible: the density of the
 * child's pair of z-scores there, in a bivariate normal distribution fitted by expectation and maximisation: place the
 * rounded values, fit the distribution to all values so placed, and again. The spread that rounding added is so taken
 * out of the fit; with a flat draw over the interval it would be added a second time instead. Dempster, Laird and Rubin,
 * J R Stat Soc B 1977;39:1-38 (from memory).
 */
export function plausibleOffsets(candidates: Candidates, rounding: Rounding): OffsetTable {
  const { from, first, second, logRate } = candidates;
  let table: OffsetTable | null = null;
  for (let round = 0; round < rounds; round++) {
    const fit = pairOf(sumsOf(candidates, table));
    const density: LogDensity = (child, k) => {
      const rate = logRate === null ? 0 : (logRate[k - from]?.[child] ?? Number.NaN);
      if (fit === null) return rate;
      return rate + logDensityOf(fit, first[k - from]?.[child] ?? Number.NaN, second[k - from]?.[child] ?? Number.NaN);
    };
    table = offsetTable(rounding, density);
    if (table.rounded.length === 0) return table;
  }
  return table as OffsetTable;
}
