import { message } from "../../results/message.js";
import type { Chart, GroupReading, Quantity, Reading } from "../../results/schema.js";
import { wilson } from "../../stats/binomial.js";
import type { Check } from "../check.js";
import { mostSerious } from "../shared/reading.js";
import { type Told, toldOf } from "../shared/told.js";
import { driftChart, findingFor, levelChart, teamTables } from "./drawing.js";
import { type TeamSummary, type TeamsDifferNumbers, teamsDifferNumbers, whyNoComparison } from "./team-findings.js";
import { finding, say } from "./words.js";

function judge(numbers: TeamsDifferNumbers): Reading {
  return mostSerious(numbers.findings.map((one) => one.reading));
}

/** The largest difference of a team that may be told of, in any index. */
function largestDifference(numbers: TeamsDifferNumbers): Quantity[] {
  const read = numbers.levels.flatMap(({ index, teams }) =>
    toldOf(teams).filter(({ team }) => findingFor(numbers, "level", index, team) !== undefined),
  );
  const [first, ...others] = read;
  if (first === undefined) return [];
  const most = others.reduce((so, one) => (Math.abs(one.difference) > Math.abs(so.difference) ? one : so), first);
  return [{ id: "largest-team-difference", of: most.of, unit: "z", value: Math.abs(most.difference), n: most.n }];
}

/** A statistic over all teams would give the last one away, where one is kept back. */
function quantities(numbers: TeamsDifferNumbers): Quantity[] {
  const tests = numbers.levels
    .filter(({ allTold }) => allTold)
    .map(
      (one): Quantity => ({
        id: `team-means-test-${one.index}`,
        of: one.of,
        unit: "statistic",
        value: one.f,
        n: one.n,
        chance: { expected: one.dfWithin > 2 ? one.dfWithin / (one.dfWithin - 2) : 1 },
        probability: one.probability,
      }),
    );
  const trends = toldOf(numbers.drifts).filter(({ slope }) => !Number.isNaN(slope));
  const [trend] = trends;
  const found = [...tests, ...largestDifference(numbers)];
  if (found.length > 0 || trend === undefined) return found;
  return [{ id: `daily-trend-${trend.measure}`, of: trend.of, unit: "z", value: trend.slope, n: trend.n }];
}

function teamQuantities(numbers: TeamsDifferNumbers, team: Told<TeamSummary>): Quantity[] {
  const levels = numbers.levels.flatMap(({ index, teams }): Quantity[] => {
    const own = teams.find((one) => one.team === team.team);
    const of = own?.of ?? null;
    if (own === undefined || of === null || findingFor(numbers, "level", index, team.team) === undefined) return [];
    const half = (own.high - own.low) / 2;
    return [
      {
        id: `team-difference-${index}`,
        of,
        unit: "z",
        value: own.difference,
        n: own.n,
        interval: { low: own.low, high: own.high, level: 0.95 },
        chance: { expected: 0, low: -half, high: half },
        probability: own.probability,
      },
      { id: `team-mean-${index}`, of, unit: "z", value: own.mean, n: own.n },
      ...(Number.isFinite(own.spreadRatio)
        ? [
            {
              id: `team-spread-ratio-${index}`,
              of,
              unit: "ratio",
              value: own.spreadRatio,
              n: own.n,
              chance: { expected: 1 },
            } satisfies Quantity,
          ]
        : []),
    ];
  });
  const trends = toldOf(numbers.drifts)
    .filter((one) => one.team === team.team && !Number.isNaN(one.slope))
    .map((one): Quantity => {
      const half = (one.high - one.low) / 2;
      return {
        id: `daily-trend-${one.measure}`,
        of: one.of,
        unit: "z",
        value: one.slope,
        n: one.n,
        interval: { low: one.low, high: one.high, level: 0.95 },
        chance: { expected: 0, low: -half, high: half },
        probability: one.probability,
      };
    });
  const outside: Quantity[] =
    team.scored === 0
      ? []
      : [
          {
            id: "share-outside-limits",
            of: team.of,
            unit: "share",
            value: team.outside / team.scored,
            n: team.scored,
            interval: wilson(team.outside, team.scored),
          },
        ];
  return [...levels, ...trends, ...outside];
}

function groups(numbers: TeamsDifferNumbers): GroupReading[] {
  return toldOf(numbers.teams).map((team) => {
    const own = numbers.findings.filter((one) => one.team === team.team).map((one) => one.adjustedProbability);
    return {
      by: "team",
      label: team.label,
      n: team.n,
      of: team.of,
      reading: team.reading,
      quantities: team.reading === "unknown" ? [] : teamQuantities(numbers, team),
      ...(own.length > 0 ? { adjustedProbability: Math.min(...own) } : {}),
    };
  });
}

function charts(numbers: TeamsDifferNumbers): Chart[] {
  const days = (["weight", "height"] as const).flatMap((measure) => driftChart(numbers, measure) ?? []);
  return [...(numbers.levels.length > 0 ? [levelChart(numbers, finding(numbers))] : []), ...days];
}

/**
 * Whether one team's measurements lie apart from the others', or move day by day as with a drifting scale. Teams work in
 * different places, so a difference can be a real one between children; a trend in weight that height and arm do not
 * share is harder to explain that way. What one team adds, the survey's prevalence carries.
 */
export const teamsDiffer: Check<TeamsDifferNumbers> = {
  id: "teams-differ",
  section: "where",
  needs: ["team", "any-index"],
  sources: ["scheffe-1959", "variance-components", "benjamini-hochberg-1995", "dhs-mr33"],
  compute: ({ children, book }) => {
    const teams = new Set(children.team?.codes.filter((code) => code >= 0) ?? []);
    if (teams.size < 2) return { cannotTell: message("checks.teams-differ.unknown.one-team", { teams: teams.size }) };
    return teamsDifferNumbers({ children, book }) ?? { cannotTell: whyNoComparison(children) };
  },
  judge,
  quantities,
  groups,
  say,
  charts,
  tables: teamTables,
};
