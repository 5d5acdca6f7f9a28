import type { Verdict } from "../results/comparison.js";
import type { IndependentEstimate } from "../stats/design/difference.js";

/** A difference is called clear where its adjusted probability is below this. Common practice, no source. */
export const clearBelow = 0.05;

/** The verdict on a difference of which it is known whether it is clear. */
export function verdictWhen(clear: boolean, difference: number): Verdict {
  if (!clear) return "no-clear-change";
  return difference > 0 ? "rise" : "fall";
}

/** A figure of one survey as the difference of two takes it; NaN for what is not known. */
export function independentOf(figure: {
  readonly value: number | null;
  readonly standardError: number | null;
  readonly degreesOfFreedom: number | null;
}): IndependentEstimate {
  return {
    estimate: figure.value ?? Number.NaN,
    variance: (figure.standardError ?? Number.NaN) ** 2,
    degreesOfFreedom: figure.degreesOfFreedom ?? Number.NaN,
  };
}
