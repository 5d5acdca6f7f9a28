import { chiSquareUpper } from "../chi-square.js";
import { confidenceLevel } from "../confidence.js";
import { normalQuantile } from "../normal.js";
import { poolStudies, type Studies } from "./pool.js";

/** How far studies differ beyond chance. NaN with fewer than two studies. */
export interface Heterogeneity {
  readonly studies: number;
  /** Cochran's Q. */
  readonly q: number;
  readonly degreesOfFreedom: number;
  /** P(chi-square of k - 1 degrees of freedom >= Q): how often chance alone gives this much. */
  readonly probability: number;
  /** Share of the variation between estimates that is not sampling error: max(0, (Q - df) / Q). */
  readonly iSquared: number;
  /** Limits of I-squared; NaN with two studies only. */
  readonly low: number;
  readonly high: number;
}

/**
 * Cochran's Q = sum (y_i - mean)^2 / v_i around the fixed-effect mean, and I-squared with its test-based interval: with
 * H = max(1, sqrt(Q / (k - 1))), the interval is exp(ln H -+ z se), turned into I^2 = (H^2 - 1) / H^2 and cut off at 0, where
 *
 *   se = (ln Q - ln(k - 1)) / (2 (sqrt(2 Q) - sqrt(2 k - 3)))     for Q > k
 *   se = sqrt((1 - 1 / (3 (k - 2)^2)) / (2 (k - 2)))              for Q <= k
 *
 * Source: Cochran, Biometrics 1954;10:101-29; Higgins and Thompson, Stat Med 2002;21:1539-58 (both from memory).
 *
 * @param studies as `usableStudies` gives them
 */
export function heterogeneityOf(studies: Studies, level = confidenceLevel): Heterogeneity {
  const k = studies.values.length;
  const degreesOfFreedom = k - 1;
  if (k < 2) {
    const { NaN: none } = Number;
    return { studies: k, q: none, degreesOfFreedom, probability: none, iSquared: none, low: none, high: none };
  }
  const { q } = poolStudies(studies);
  const fromH = (logH: number): number => Math.max(0, 1 - Math.exp(-2 * logH));
  const logH = Math.max(0, Math.log(q / degreesOfFreedom) / 2);
  const half = normalQuantile(1 - (1 - level) / 2) * logHError(q, k);
  return {
    studies: k,
    q,
    degreesOfFreedom,
    probability: chiSquareUpper(q, degreesOfFreedom),
    iSquared: q > degreesOfFreedom ? (q - degreesOfFreedom) / q : 0,
    low: fromH(logH - half),
    high: fromH(logH + half),
  };
}

function logHError(q: number, k: number): number {
  if (k < 3) return Number.NaN;
  if (q > k) return (Math.log(q) - Math.log(k - 1)) / (2 * (Math.sqrt(2 * q) - Math.sqrt(2 * k - 3)));
  return Math.sqrt((1 - 1 / (3 * (k - 2) ** 2)) / (2 * (k - 2)));
}
