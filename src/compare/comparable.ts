import type { Comparable, EstimateCell, Results } from "../results/schema.js";

/** Figures of single teams that are followed from survey to survey; those of all other groups are not compared. */
export const followedFigures = "team-difference-";

type Parts = Pick<
  Results,
  "survey" | "input" | "settings" | "design" | "children" | "checks" | "estimates" | "consequence"
>;
type Check = Comparable["checks"][number];
type Scenario = Comparable["scenarios"][number];

/** Of an estimate's cell everything but its class: the same scheme's limits stand in every cell. */
function cellOf({
  classification: _,
  ...cell
}: EstimateCell): Comparable["estimates"][number]["byExclusion"][number]["cell"] {
  return cell;
}

function estimateOf(estimate: Results["estimates"][number]): Comparable["estimates"][number] {
  const { id, family, kind, reason, overall, byExclusion } = estimate;
  return {
    id,
    family,
    kind,
    ...(reason === undefined ? {} : { reason }),
    overall: overall === null ? null : cellOf(overall),
    byExclusion: byExclusion.map(({ rule, cell }) => ({ rule, cell: cellOf(cell) })),
  };
}

function checkOf({ id, reading, reason, quantities, rowsToCheck, groups }: Results["checks"][number]): Check {
  const followed = groups.map(({ adjustedProbability: _, ...group }) => ({
    ...group,
    quantities: group.quantities.filter((quantity) => quantity.id.startsWith(followedFigures)),
  }));
  return { id, reading, ...(reason === undefined ? {} : { reason }), quantities, rowsToCheck, groups: followed };
}

function scenarioOf(scenario: NonNullable<Results["consequence"]>["scenarios"][number]): Scenario {
  const { id, group, label, kind, reason, outcomes } = scenario;
  const kept = outcomes.map(({ shift: _, class: __, moves: ___, ...outcome }) => outcome);
  return { id, group, label, kind, ...(reason === undefined ? {} : { reason }), outcomes: kept };
}

function definitionOf({ settings, design }: Parts): Comparable["definition"] {
  return {
    ageFrom: settings.ageRange.from,
    ageTo: settings.ageRange.to,
    exclusionRule: settings.exclusions.default,
    widthAroundMean: settings.exclusions.widthAroundMean,
    positionRule: settings.positionRule,
    weighted: design.weighted,
    finitePopulationCorrection: design.finitePopulationCorrection,
    ...(design.unknown === undefined ? {} : { designUnknown: design.unknown.map(({ id }) => id) }),
  };
}

/** The section of results.json that a comparison reads: numbers, readings and message ids that stand elsewhere in it too. */
export function comparableOf(results: Parts): Comparable {
  const { survey, input, design, children, checks, estimates, consequence } = results;
  const { name, title, population, firstDay, lastDay, invented } = survey;
  return {
    survey: { name, title, population, firstDay, lastDay, invented },
    dataSha256: input.sha256,
    definition: definitionOf(results),
    children: children.total,
    clusters: design.clusters,
    strata: design.strata,
    checks: checks.map(checkOf),
    estimates: estimates.map(estimateOf),
    scenarios: (consequence?.scenarios ?? []).map(scenarioOf),
  };
}
