import { betaCumulative } from "./beta.js";
import { logitInterval, plannedDesignEffect, proportionInterval } from "./design/interval.js";
import { studentTwoSided } from "./student-t.js";

/** What the chance of a share rests on: the share, its design-based standard error and degrees of freedom, and its rows. */
export interface ShareWithError {
  readonly estimate: number;
  readonly standardError: number;
  readonly degreesOfFreedom: number;
  readonly n: number;
}

const logit = (p: number): number => Math.log(p / (1 - p));

/** P(T <= t), each tail with its own digits. */
function studentCumulative(t: number, degreesOfFreedom: number): number {
  const tail = studentTwoSided(t, degreesOfFreedom) / 2;
  return t > 0 ? 1 - tail : tail;
}

/** Whether the standard error says something: neither no cases nor nothing but cases, and clusters that differ. */
const hasError = ({ estimate, standardError }: ShareWithError): boolean =>
  estimate > 0 && estimate < 1 && standardError > 1e-12;

/**
 * With x cases among n rows and no usable standard error, by the exact (Clopper-Pearson) limits on n / 1.5 rows: the limit L
 * that leaves a above it as a lower limit, and below it as an upper one, read the other way round:
 *
 *   no cases      P(p >= L) = (1 - L)^n
 *   all cases     P(p >= L) = 1 - L^n
 *   in between    mean of P(p >= L) by the lower and by the upper limits, I_L(x, n - x + 1) and I_L(x + 1, n - x)
 */
function exactChance({ estimate, n }: ShareWithError, limit: number): number {
  const size = n / plannedDesignEffect;
  const cases = size * estimate;
  if (estimate <= 0) return (1 - limit) ** size;
  if (estimate >= 1) return 1 - limit ** size;
  const below = (betaCumulative(limit, cases, size - cases + 1) + betaCumulative(limit, cases + 1, size - cases)) / 2;
  return 1 - below;
}

/**
 * The chance that the true share is at or above a limit, as far as sampling alone goes: the distribution that the report's
 * interval is cut from, read at the limit.
 *
 *   P(true p >= L) = P(T <= (logit(p) - logit(L)) p (1 - p) / se),  T Student's t with the design's degrees of freedom
 *
 * Exact where the standard error says nothing (no cases, nothing but cases). 1 for a limit of 0 or below, 0 for one of 1 or above;
 * NaN where there is no interval either. Source: the logit interval of Korn and Graubard, Surv Methodol 1998;24:193-201;
 * a confidence distribution in the sense of Xie and Singh, Int Stat Rev 2013;81:3-39 (from memory).
 */
export function chanceAtOrAbove(share: ShareWithError, limit: number): number {
  const { estimate, standardError, degreesOfFreedom, n } = share;
  if (!(n > 0) || !(degreesOfFreedom > 0) || Number.isNaN(limit) || !(estimate >= 0 && estimate <= 1))
    return Number.NaN;
  if (limit <= 0) return 1;
  if (limit >= 1) return 0;
  if (!hasError(share)) return exactChance(share, limit);
  const spread = standardError / (estimate * (1 - estimate));
  return studentCumulative((logit(estimate) - logit(limit)) / spread, degreesOfFreedom);
}

/** The mean chance over several shares, those without any left out; NaN where none is left. */
export function meanChanceAtOrAbove(shares: readonly ShareWithError[], limit: number): number {
  let sum = 0;
  let count = 0;
  for (const share of shares) {
    const chance = chanceAtOrAbove(share, limit);
    if (Number.isNaN(chance)) continue;
    sum += chance;
    count += 1;
  }
  return count === 0 ? Number.NaN : sum / count;
}

/**
 * The interval of the mixture of several shares' distributions, each counted alike: the limits that (1 - level) / 2 of it lies
 * below and above. Found by halving; with shares that are all one and the same, the interval of that one. Null where there is
 * none.
 */
export function mixtureInterval(
  shares: readonly ShareWithError[],
  level: number,
): { readonly low: number; readonly high: number } | null {
  const usable = shares.filter((share) => !Number.isNaN(chanceAtOrAbove(share, 0.5)));
  const [first] = usable;
  if (first === undefined) return null;
  const same = usable.every(
    (one) => one.estimate === first.estimate && one.standardError === first.standardError && one.n === first.n,
  );
  if (same) {
    const { low, high, method } = proportionInterval(first, level);
    return method === "none" ? null : { low, high };
  }
  const tail = (1 - level) / 2;
  return { low: crossing(usable, 1 - tail), high: crossing(usable, tail) };
}

/** The limit at which the mean chance of lying at or above it falls to `chance`. */
function crossing(shares: readonly ShareWithError[], chance: number): number {
  let [low, high] = reachOf(shares);
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (meanChanceAtOrAbove(shares, middle) >= chance) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Limits that hold all of the mixture but next to nothing. */
function reachOf(shares: readonly ShareWithError[]): [number, number] {
  let low = 1;
  let high = 0;
  for (const share of shares) {
    const reach = hasError(share)
      ? logitInterval(share.estimate, share.standardError, share.degreesOfFreedom, 0.9999)
      : { low: 0, high: 1 };
    low = Math.min(low, reach.low);
    high = Math.max(high, reach.high);
  }
  return [low, high];
}
