import type { Classification } from "../results/schema.js";
import { studentTwoSided } from "../stats/student-t.js";
import type { ClassScheme } from "./estimate.js";

// De Onis et al., Public Health Nutrition 2019;22:175-9. The classes are multiples of 2.5 %, what the standards' own
// population has outside two standard deviations: up to 1, 2, 4 and 6 times for wasting and overweight; 1, 4, 8 and 12
// times for stunting (multiples read in the source; the rounded percentages follow from them).
export const wasting2019: ClassScheme = {
  id: "who-unicef-2019",
  classes: [
    { id: "very-low", from: 0 },
    { id: "low", from: 0.025 },
    { id: "medium", from: 0.05 },
    { id: "high", from: 0.1 },
    { id: "very-high", from: 0.15 },
  ],
};

export const stunting2019: ClassScheme = {
  id: "who-unicef-2019",
  classes: [
    { id: "very-low", from: 0 },
    { id: "low", from: 0.025 },
    { id: "medium", from: 0.1 },
    { id: "high", from: 0.2 },
    { id: "very-high", from: 0.3 },
  ],
};

// WHO Technical Report Series 854 (1995): underweight under 10, 10-19, 20-29, 30 and over (read). No later classes were
// published for underweight. Printed whole numbers leave gaps; they are read as half-open intervals.
export const underweight1995: ClassScheme = {
  id: "who-1995",
  classes: [
    { id: "low", from: 0 },
    { id: "medium", from: 0.1 },
    { id: "high", from: 0.2 },
    { id: "very-high", from: 0.3 },
  ],
};

/** Index of the class that a prevalence falls in. */
export function classOf(scheme: ClassScheme, prevalence: number): number {
  let at = 0;
  for (let i = 1; i < scheme.classes.length; i++) if (prevalence >= (scheme.classes[i]?.from ?? 1)) at = i;
  return at;
}

/** P(T <= x) for Student's t with df degrees of freedom. */
function studentCumulative(x: number, df: number): number {
  const upper = studentTwoSided(Math.abs(x), df) / 2;
  return x > 0 ? 1 - upper : upper;
}

const logit = (p: number): number => Math.log(p / (1 - p));

/**
 * The class of an estimate, every class its interval touches, and the probability of each class under the model the
 * logit interval stands on: (logit(p) - L) / (se / (p (1 - p))) follows Student's t. Without a usable standard error
 * (no cases, or nothing but cases) the probabilities are left out.
 */
export function classify(
  scheme: ClassScheme,
  estimate: number,
  standardError: number,
  degreesOfFreedom: number,
  interval: { readonly low: number; readonly high: number },
): Classification {
  const at = classOf(scheme, estimate);
  const lowest = classOf(scheme, interval.low);
  const highest = classOf(scheme, interval.high);
  const name = (i: number): string => scheme.classes[i]?.id ?? "";
  const span = Array.from({ length: highest - lowest + 1 }, (_, i) => name(lowest + i));
  const spread = standardError / (estimate * (1 - estimate));
  const usable = estimate > 0 && estimate < 1 && spread > 0 && degreesOfFreedom > 0;
  const probabilities: { class: string; probability: number }[] = [];
  if (usable) {
    const below = (limit: number): number =>
      limit <= 0 ? 0 : studentCumulative((logit(limit) - logit(estimate)) / spread, degreesOfFreedom);
    for (let i = 0; i < scheme.classes.length; i++) {
      const upper = i + 1 < scheme.classes.length ? below(scheme.classes[i + 1]?.from ?? 1) : 1;
      probabilities.push({ class: name(i), probability: upper - below(scheme.classes[i]?.from ?? 0) });
    }
  }
  const limits = scheme.classes.map(({ id, from }) => ({ class: id, from }));
  return { scheme: scheme.id, at: name(at), span, limits, probabilities };
}
