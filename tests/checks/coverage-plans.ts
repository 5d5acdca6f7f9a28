import type { AnyCheck } from "../../src/checks/run.js";
import { type CheckRun, runCheck } from "../../src/checks/run.js";
import type { PlannedCluster, SamplePlan } from "../../src/columns/sample-plan.js";
import { checkResultSchema } from "../../src/results/schema.js";
import { mustHaveWords } from "../columns/make-table.js";
import { cleanSurvey } from "./clean-survey.js";
import { makeSettings } from "./make-children.js";
import { messagesIn } from "./who-checks.js";

/** A plan of like clusters, with single ones changed. */
export function planOf(
  count: number,
  change: (index: number) => Partial<PlannedCluster> = () => ({}),
  more: Partial<SamplePlan> = {},
): SamplePlan {
  const clusters = Array.from({ length: count }, (_, i) => ({
    label: String(101 + i),
    stratum: null,
    replacement: false,
    rows: 20,
    plannedHouseholds: 10,
    reachedHouseholds: 10,
    householdsInFrame: Number.NaN,
    ...change(i),
  }));
  return {
    from: "list",
    clustersKnown: true,
    clusters,
    unplanned: [],
    householdsFrom: "list",
    plannedHaveChildren: false,
    ...more,
  };
}

const children = cleanSurvey({ seed: 12 });

/** Runs a check on children with a plan; its result fits the schema and all that it says has words. */
export function resultWith(check: AnyCheck, plan: SamplePlan | null): CheckRun["result"] {
  const result = checkResultSchema.parse(runCheck(check, { ...children, plan }, makeSettings()).result);
  messagesIn(result).forEach(mustHaveWords);
  for (const { id } of result.quantities) mustHaveWords({ id: `quantity.${id}`, values: {} });
  return result;
}

export function quantity(result: CheckRun["result"], id: string) {
  return result.quantities.find((one) => one.id === id);
}
