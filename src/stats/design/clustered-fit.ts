import { chiSquareUpper } from "../chi-square.js";
import { fUpper } from "../f.js";
import { goodnessOfFit } from "../goodness-of-fit.js";
import { estimateProportion } from "./proportion.js";
import type { SurveyDesign } from "./survey-design.js";

/** Pearson's chi-square against given shares, corrected for clusters. */
export interface ClusteredFit {
  readonly n: number;
  readonly counts: readonly number[];
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  /** Mean generalized design effect, never below 1; 1 without clusters. */
  readonly designEffect: number;
  /** Degrees of freedom of the design; infinite without clusters. */
  readonly designDegreesOfFreedom: number;
  /** Upper tail of chiSquare / (designEffect * df) as F(df, df * design degrees of freedom); of chi-square without clusters. */
  readonly probability: number;
}

/**
 * First-order Rao-Scott goodness of fit: X2 / d, with d = n sum_k v(p_k) / pi_k / (K - 1) the mean of the generalized
 * design effects (v the design variance of the observed share, pi the expected one). Values of d below 1 are taken as
 * 1, so that the test never claims more than a simple random sample would.
 *
 * Source: Rao and Scott, JASA 1981;76:221-30; F reference as in Thomas and Rao, JASA 1987;82:630-6.
 *
 * @param codes category of each row, 0 to K - 1; a negative code is left out
 * @param expectedShares K shares above 0 that sum to 1
 */
export function clusteredFit(
  design: SurveyDesign | null,
  codes: ArrayLike<number>,
  expectedShares: readonly number[],
): ClusteredFit {
  const counts = new Array<number>(expectedShares.length).fill(0);
  const inDomain = Uint8Array.from(codes, (code) => (code >= 0 ? 1 : 0));
  for (let i = 0; i < codes.length; i++) {
    const code = codes[i] as number;
    if (code >= 0) counts[code] = (counts[code] as number) + 1;
  }
  const fit = goodnessOfFit(counts, expectedShares);
  const categories = expectedShares.length - 1;
  let sum = 0;
  let designDegreesOfFreedom = Number.POSITIVE_INFINITY;
  if (design !== null) {
    expectedShares.forEach((expected, k) => {
      const isCase = Uint8Array.from(codes, (code) => (code === k ? 1 : 0));
      const estimate = estimateProportion(design, isCase, inDomain);
      sum += estimate.variance / expected;
      // One cluster a stratum says nothing about how clusters differ: then as without clusters.
      if (estimate.degreesOfFreedom >= 1) designDegreesOfFreedom = estimate.degreesOfFreedom;
    });
  }
  const clustered = Number.isFinite(designDegreesOfFreedom);
  const measured = clustered ? (fit.n * sum) / categories : 1;
  const designEffect = Number.isNaN(measured) ? 1 : Math.max(1, measured);
  const corrected = fit.chiSquare / designEffect;
  return {
    n: fit.n,
    counts,
    chiSquare: fit.chiSquare,
    degreesOfFreedom: fit.degreesOfFreedom,
    designEffect,
    designDegreesOfFreedom,
    probability: clustered
      ? fUpper(corrected / categories, categories, categories * designDegreesOfFreedom)
      : chiSquareUpper(corrected, categories),
  };
}
