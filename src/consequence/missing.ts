import { withinMonths } from "../derive/age.js";
import type { Children } from "../derive/children.js";
import { armAges, outcome } from "../derive/outcome.js";
import type { PrevalenceEstimate } from "../estimates/estimate.js";
import { message } from "../results/message.js";
import { estimateProportion } from "../stats/design/proportion.js";
import { withInterval } from "./reestimate.js";
import type { Reestimate, Scenario, ScenarioFile, World } from "./scenario.js";

/** What the children without a measure are taken to be: a case with this probability, given the measured prevalence. */
const assumptions: readonly { readonly name: string; readonly probability: (measured: number) => number }[] = [
  { name: "none-a-case", probability: () => 0 },
  { name: "twice-as-often", probability: (measured) => Math.min(1, 2 * measured) },
  { name: "all-cases", probability: () => 1 },
];

/** 1 for children who belong to the estimate's population but could not be judged because a measure, age or sex is missing. */
export function notJudged(children: Children, estimate: PrevalenceEstimate): Uint8Array {
  const judged = outcome(children, estimate.outcome, "none").inDomain;
  const armOnly = estimate.outcome.includes("arm-circumference") || estimate.outcome.includes("combined");
  return Uint8Array.from(judged, (inside, i) => {
    if (inside === 1 || children.oedema?.[i] === 1) return 0;
    const days = children.ageDays[i] ?? Number.NaN;
    if (armOnly && !Number.isNaN(days) && !withinMonths(days, armAges.from, armAges.to)) return 0;
    return 1;
  });
}

function withMissing(
  world: World,
  estimate: PrevalenceEstimate,
  probability: (measured: number) => number,
): Reestimate {
  const { children, design, rule } = world;
  const { isCase, inDomain } = outcome(children, estimate.outcome, rule);
  const measured = estimateProportion(design, isCase, inDomain).estimate;
  const missing = notJudged(children, estimate);
  const assumed = probability(measured);
  const cases = Float64Array.from(isCase, (value, i) => (missing[i] === 1 ? assumed : value));
  const everyone = inDomain.map((inside, i) => (inside === 1 || missing[i] === 1 ? 1 : 0));
  return withInterval(estimate.id, estimateProportion(design, cases, everyone));
}

/**
 * Bounds, not guesses: every child of the file without a usable measure counted as no case, as a case, and as a case
 * twice as often as the measured children.
 */
export const missing: ScenarioFile = (world) => {
  const any = world.headlines.some(({ estimate }) => notJudged(world.children, estimate).includes(1));
  if (!any) return [];
  return assumptions.map(
    ({ name, probability }): Scenario => ({
      id: `missing/${name}`,
      group: "missing",
      label: message(`scenario.missing.${name}`),
      kind: "bound",
      checks: ["missing-values"],
      run: () => world.headlines.map(({ estimate }) => withMissing(world, estimate, probability)),
    }),
  );
};
