import type { Quantity, Reading } from "../results/schema.js";
import { upperPercentile } from "../stats/confidence.js";
import { benjaminiHochberg } from "../stats/false-discovery.js";
import { poolStudies, usableStudies } from "../stats/meta/pool.js";
import { normalQuantile, normalUpper } from "../stats/normal.js";
import type { SurveySummary } from "./summary.js";

const indices = ["weight-for-height", "height-for-age", "arm-for-age"] as const;
type Index = (typeof indices)[number];

/** A team code in one survey, with the readings of every check that reads teams one by one. */
export interface Sighting {
  readonly survey: SurveySummary;
  readonly readings: ReadonlyMap<string, Reading>;
  /** How far the team's mean z-score lies from the other teams', by index. */
  readonly differences: ReadonlyMap<Index, Quantity>;
}

/** One team code over all surveys in which it stands. */
export interface Followed {
  readonly team: string;
  readonly sightings: readonly Sighting[];
}

function sightingsIn(survey: SurveySummary): Map<string, Sighting> {
  const readings = new Map<string, Map<string, Reading>>();
  const differences = new Map<string, Map<Index, Quantity>>();
  for (const check of survey.checks.values()) {
    for (const group of check.groups) {
      if (group.by !== "team") continue;
      const own = readings.get(group.label) ?? new Map<string, Reading>();
      readings.set(group.label, own.set(check.id, group.reading));
      const found = differences.get(group.label) ?? new Map<Index, Quantity>();
      for (const index of indices) {
        const quantity = group.quantities.find(({ id }) => id === `team-difference-${index}`);
        if (quantity !== undefined) found.set(index, quantity);
      }
      differences.set(group.label, found);
    }
  }
  return new Map(
    [...readings].map(([team, own]) => [
      team,
      { survey, readings: own, differences: differences.get(team) ?? new Map() },
    ]),
  );
}

/** Team codes that stand in more than one survey. */
export function followedTeams(summaries: readonly SurveySummary[]): Followed[] {
  const byTeam = new Map<string, Sighting[]>();
  for (const survey of summaries) {
    for (const [team, sighting] of sightingsIn(survey)) {
      const known = byTeam.get(team);
      if (known === undefined) byTeam.set(team, [sighting]);
      else known.push(sighting);
    }
  }
  return [...byTeam].filter(([, seen]) => seen.length > 1).map(([team, sightings]) => ({ team, sightings }));
}

/** A team's difference from its colleagues over all its surveys. */
export interface PooledDifference {
  readonly team: string;
  readonly index: Index;
  readonly surveys: number;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly adjustedProbability: number;
}

const half = normalQuantile(upperPercentile);

/**
 * The difference between a team's mean z-score and the other teams' of the same survey, over its surveys: the mean
 * weighted by the inverse of the variances, these taken from each survey's own 95 % interval (half its width over 1.96). The
 * false discovery rate is held over all teams and indices.
 */
export function pooledDifferences(followed: readonly Followed[]): PooledDifference[] {
  const found = followed.flatMap(({ team, sightings }) =>
    indices.flatMap((index) => {
      const told = sightings.flatMap(({ differences }) => {
        const quantity = differences.get(index);
        return quantity?.value == null || quantity.interval === undefined ? [] : [{ quantity, value: quantity.value }];
      });
      const width = told.map(({ quantity }) => ((quantity.interval?.high ?? 0) - (quantity.interval?.low ?? 0)) / 2);
      const studies = usableStudies(
        told.map(({ value }) => value),
        width.map((one) => (one / half) ** 2),
      );
      if (studies.values.length < 2) return [];
      const { estimate, variance } = poolStudies(studies);
      const standardError = Math.sqrt(variance);
      const probability = 2 * normalUpper(Math.abs(estimate) / standardError);
      const [low, high] = [estimate - half * standardError, estimate + half * standardError];
      return [{ team, index, surveys: studies.values.length, value: estimate, low, high, probability }];
    }),
  );
  const adjusted = benjaminiHochberg(found.map(({ probability }) => probability));
  return found.map(({ probability: _, ...one }, i) => ({ ...one, adjustedProbability: adjusted[i] as number }));
}
