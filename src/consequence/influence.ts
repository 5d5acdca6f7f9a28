import { outcome } from "../derive/outcome.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { reestimate } from "./reestimate.js";
import type { Reestimate, Scenario, ScenarioFile, World } from "./scenario.js";

function leavingOut(
  id: string,
  label: Message,
  checks: readonly string[],
  isOut: (child: number) => boolean,
): Scenario {
  return {
    id,
    group: "influence",
    label,
    kind: "estimate",
    checks,
    run: (world) => {
      const only = Uint8Array.from({ length: world.children.count }, (_, i) => (isOut(i) ? 0 : 1));
      return world.headlines.map(({ estimate }) =>
        reestimate(world.children, world.design, estimate, world.rule, only),
      );
    },
  };
}

function withoutTeams(world: World): Scenario[] {
  const team = world.children.team;
  if (team === null || team.labels.length < 2) return [];
  return team.publicLabels.map((label, code) =>
    leavingOut(
      `leave-out-team/${label}`,
      message("scenario.leave-out-team", { team: label }),
      ["teams-differ", "height-digits", "weight-digits", "arm-digits"],
      (child) => team.codes[child] === code,
    ),
  );
}

function withoutDays(world: World): Scenario[] {
  const days = world.children.interviewDay;
  if (days === null) return [];
  const distinct = [...new Set(days)].filter((day) => !Number.isNaN(day)).sort((a, b) => a - b);
  if (distinct.length < 2) return [];
  return distinct.map((day, i) =>
    leavingOut(
      `leave-out-day/${i + 1}`,
      message("scenario.leave-out-day", { day: i + 1 }),
      ["teams-differ"],
      (child) => days[child] === day,
    ),
  );
}

/** The cluster without which the estimate would be lowest, or highest; from the clusters' totals alone. */
function mostInfluential(world: World, headline: number, direction: "lowest" | "highest"): number {
  const { design, children, rule } = world;
  const estimate = world.headlines[headline]?.estimate;
  if (estimate === undefined) return -1;
  const { isCase, inDomain } = outcome(children, estimate.outcome, rule);
  const cases = new Float64Array(design.clusterCount);
  const weights = new Float64Array(design.clusterCount);
  for (let i = 0; i < design.count; i++) {
    if (inDomain[i] !== 1) continue;
    const cluster = design.cluster[i] ?? 0;
    const weight = design.weight[i] ?? 0;
    weights[cluster] = (weights[cluster] ?? 0) + weight;
    if (isCase[i] === 1) cases[cluster] = (cases[cluster] ?? 0) + weight;
  }
  const allCases = cases.reduce((sum, value) => sum + value, 0);
  const allWeights = weights.reduce((sum, value) => sum + value, 0);
  const without = Float64Array.from(cases, (value, c) => (allCases - value) / (allWeights - (weights[c] ?? 0)));
  let found = -1;
  for (let c = 0; c < without.length; c++) {
    const value = without[c] ?? Number.NaN;
    if (Number.isNaN(value)) continue;
    const best = found < 0 ? Number.NaN : (without[found] ?? Number.NaN);
    if (found < 0 || (direction === "lowest" ? value < best : value > best)) found = c;
  }
  return found;
}

function withoutExtremeCluster(direction: "lowest" | "highest"): Scenario {
  return {
    id: `leave-out-cluster/${direction}`,
    group: "influence",
    label: message(`scenario.leave-out-cluster.${direction}`),
    kind: "estimate",
    checks: ["clusters-differ"],
    run: (world) =>
      world.headlines.map(({ estimate }, h): Reestimate => {
        const out = mostInfluential(world, h, direction);
        const only = Uint8Array.from(world.design.cluster, (cluster) => (cluster === out ? 0 : 1));
        return reestimate(world.children, world.design, estimate, world.rule, only);
      }),
  };
}

/**
 * The survey without each team, without each day, and without the one cluster that pulls each estimate most in either
 * direction (found by leaving out every cluster in turn; only the extremes are reported).
 */
export const influence: ScenarioFile = (world) => [
  ...withoutTeams(world),
  ...withoutDays(world),
  ...(world.design.clusterCount > 2 ? [withoutExtremeCluster("lowest"), withoutExtremeCluster("highest")] : []),
];
