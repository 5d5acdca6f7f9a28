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
  readonly name: "none-a-case" | "twice-as-often" | "all-cases";
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
  const { ageDays, oedema, count } = children;
  const judged = outcome(children, estimate.outcome, "none").inDomain;
  const armOnly = estimate.outcome.includes("arm-circumference") || estimate.outcome.includes("combined");
  const absent = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    if (judged[i] === 1 || (oedema !== null && oedema[i] === 1)) continue;
    const days = ageDays[i] as number;
    if (armOnly && !Number.isNaN(days) && !withinMonths(days, armAges.from, armAges.to)) continue;
    absent[i] = 1;
  }
  return absent;
}

function weightOf({ design }: World, mask: Uint8Array): number {
  let sum = 0;
  for (let i = 0; i < design.count; i++) {
    const weight = design.weight[i] as number;
    if (mask[i] === 1 && weight > 0) sum += weight;
  }
  return sum;
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
  const cases = new Float64Array(children.count);
  const everyone = new Uint8Array(children.count);
  for (let i = 0; i < children.count; i++) {
    const value = isCase[i] as number;
    cases[i] = absent[i] === 1 ? assumed : carried === 0 ? value : value + carried * (value - measured);
    if (inDomain[i] === 1 || absent[i] === 1) everyone[i] = 1;
  }
  // Nothing is known of the children without a measure: the figure tells of the measured ones.
  const speaks = { members: inDomain, isCase, atRandom: false };
  return withInterval(estimate.id, estimateProportion(design, cases, everyone), speaks);
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
