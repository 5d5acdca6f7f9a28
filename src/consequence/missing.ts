import { withinMonths } from "../derive/age.js";
import type { Children } from "../derive/children.js";
import { armAges, outcome } from "../derive/outcome.js";
import type { PrevalenceEstimate } from "../estimates/estimate.js";
import { message } from "../results/message.js";
import { estimateProportion } from "../stats/design/proportion.js";
import { withInterval } from "./reestimate.js";
import type { Reestimate, Scenario, ScenarioFile, World } from "./scenario.js";

/**
 * What the children without a measure are taken to be: cases with a probability that does not depend on the measured
 * children, or some times as often as those.
 */
interface Assumption {
  readonly name: string;
  readonly probability: number;
  readonly timesAsOften: number;
}

const assumptions: readonly Assumption[] = [
  { name: "none-a-case", probability: 0, timesAsOften: 0 },
  { name: "twice-as-often", probability: 0, timesAsOften: 2 },
  { name: "all-cases", probability: 1, timesAsOften: 0 },
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

function weightOf(world: World, mask: Uint8Array): number {
  return world.design.weight.reduce((sum, weight, i) => (mask[i] === 1 && weight > 0 ? sum + weight : sum), 0);
}

/**
 * With W and M the weights of the measured children and of those without a measure and p the measured share, every child
 * without one counts q = probability + times p. Where q hangs on p, its sampling error is theirs as well: each measured
 * child then counts y + times (M / W) (y - p), which leaves the estimate where it is and gives it the right variance.
 */
function withMissing(world: World, estimate: PrevalenceEstimate, assumption: Assumption): Reestimate {
  const { children, design, rule } = world;
  const { isCase, inDomain } = outcome(children, estimate.outcome, rule);
  const measured = estimateProportion(design, isCase, inDomain).estimate;
  const absent = notJudged(children, estimate);
  const assumed = Math.min(1, assumption.probability + assumption.timesAsOften * measured);
  const carried = assumed < 1 ? (assumption.timesAsOften * weightOf(world, absent)) / weightOf(world, inDomain) : 0;
  const cases = Float64Array.from(isCase, (value, i) =>
    absent[i] === 1 ? assumed : carried === 0 ? value : value + carried * (value - measured),
  );
  const everyone = inDomain.map((inside, i) => (inside === 1 || absent[i] === 1 ? 1 : 0));
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
    (assumption): Scenario => ({
      id: `missing/${assumption.name}`,
      group: "missing",
      label: message(`scenario.missing.${assumption.name}`),
      kind: "bound",
      checks: ["missing-values"],
      run: () => world.headlines.map(({ estimate }) => withMissing(world, estimate, assumption)),
    }),
  );
};
