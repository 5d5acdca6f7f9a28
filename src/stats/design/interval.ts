import { clopperPearson, type Interval } from "../binomial.js";
import { confidenceLevel } from "../confidence.js";
import { studentQuantile } from "../student-t.js";
import type { ProportionEstimate } from "./proportion.js";

/** The t that leaves (1 - level)/2 above it. */
function criticalT(degreesOfFreedom: number, level: number): number {
  return studentQuantile(1 - (1 - level) / 2, degreesOfFreedom);
}

/**
 * Logit interval of a share: ln(p / (1 - p)) +- t se / (p (1 - p)), turned back. Stays within 0 and 1.
 * NaN when p is 0 or 1 (use `zeroCasesInterval`) or the degrees of freedom are not above 0.
 * Source: Korn and Graubard, Surv Methodol 1998;24:193-201; Newcombe, Stat Med 1998;17:857-72.
 */
export function logitInterval(
  estimate: number,
  standardError: number,
  degreesOfFreedom: number,
  level = confidenceLevel,
): Interval {
  if (!(estimate > 0 && estimate < 1)) return { low: Number.NaN, high: Number.NaN, level };
  const centre = Math.log(estimate / (1 - estimate));
  const half = (criticalT(degreesOfFreedom, level) * standardError) / (estimate * (1 - estimate));
  return { low: 1 / (1 + Math.exp(half - centre)), high: 1 / (1 + Math.exp(-half - centre)), level };
}

/** Symmetric interval of a mean or a difference: estimate +- t se. NaN when the degrees of freedom are not above 0. */
export function meanInterval(
  estimate: number,
  standardError: number,
  degreesOfFreedom: number,
  level = confidenceLevel,
): Interval {
  const half = criticalT(degreesOfFreedom, level) * standardError;
  return { low: estimate - half, high: estimate + half, level };
}

/** What planners of surveys assume for acute malnutrition where none is known (Kaiser et al., Disasters 2006;30:199-211). */
export const plannedDesignEffect = 1.5;

/**
 * Exact interval for a share whose standard error says nothing: 0 (no case), 1 (all cases), or any share that is the same
 * in every cluster. Clopper-Pearson with n_e = n / assumed design effect rows and n_e p cases; for a share of 0 that is 0 to
 * 1 - (alpha/2)^(1/n_e). The design effect has to be assumed, since such a sample shows none of its own.
 *
 * Source: Korn and Graubard, Surv Methodol 1998;24:193-201 (exact interval on an effective size).
 *
 * @param estimate share, 0 to 1
 * @param n rows it rests on
 * @param assumedDesignEffect `plannedDesignEffect` unless said otherwise; below 1 is taken as 1
 */
export function zeroCasesInterval(
  estimate: number,
  n: number,
  level = confidenceLevel,
  assumedDesignEffect = plannedDesignEffect,
): Interval {
  const size = n / Math.max(1, assumedDesignEffect);
  return clopperPearson(size * estimate, size, level);
}

/** An interval with the name of the method that gave it. */
export interface NamedInterval extends Interval {
  /** 'none' where no interval can be had: no rows, or no degrees of freedom. */
  readonly method: "logit" | "exact" | "none";
}

/**
 * The interval a report prints for a share: logit; where the share is 0 or 1 or all clusters are alike, so that its
 * standard error says nothing, the exact interval with the sample's size divided by an assumed design effect.
 */
export function proportionInterval(
  share: Pick<ProportionEstimate, "estimate" | "standardError" | "n" | "degreesOfFreedom">,
  level = confidenceLevel,
  assumedDesignEffect = plannedDesignEffect,
): NamedInterval {
  const { estimate, standardError, n, degreesOfFreedom } = share;
  if (!(n > 0) || !(degreesOfFreedom > 0)) return { low: Number.NaN, high: Number.NaN, level, method: "none" };
  if (estimate > 0 && estimate < 1 && standardError > 1e-12) {
    return { ...logitInterval(estimate, standardError, degreesOfFreedom, level), method: "logit" };
  }
  return { ...zeroCasesInterval(estimate, n, level, assumedDesignEffect), method: "exact" };
}
