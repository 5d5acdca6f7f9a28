/** Shares of the age groups: too few children at one age and too many at the next show ages guessed, or children left out. */

import type { GroupId } from "../../results/group.js";
import { message } from "../../results/message.js";
import { isConcern } from "../../results/reading.js";
import type { Chart, Message, Reading, Table } from "../../results/schema.js";
import { clusteredFit } from "../../stats/design/clustered-fit.js";
import type { Check } from "../check.js";
import { measurementDesign } from "../shared/clustering.js";
import { expectedAgeShares } from "../shared/expected-ages.js";
import { adjustTogether } from "../shared/multiplicity.js";
import { mostSerious, readDeparture, readGroupsTogether } from "../shared/reading.js";
import { findingVariant } from "../shared/share-drawing.js";
import { known, shareInterval } from "../shared/shares.js";
import { toldOf } from "../shared/told.js";
import {
  type AgeGroupsNumbers,
  type AgeShares,
  agesOf,
  boundsWithin,
  fewestExpected,
  groupCodes,
  sizeLimits,
  sizeOf,
  teamsOf,
} from "./numbers.js";

function overallReading(numbers: AgeGroupsNumbers): Reading {
  return readDeparture(numbers.adjustedProbability, sizeOf(numbers.overall), sizeLimits);
}

function judge(numbers: AgeGroupsNumbers): Reading {
  return mostSerious([overallReading(numbers), readGroupsTogether(numbers.teams, numbers.overall.n)]);
}

function bandLabel(numbers: AgeGroupsNumbers, k: number): Message {
  return message("checks.age-groups.band", {
    from: numbers.bounds[k] as number,
    to: (numbers.bounds[k + 1] as number) - 1,
  });
}

/** The group with the largest surplus and the one with the largest deficit. */
function extremes(numbers: AgeGroupsNumbers): { readonly most: number; readonly least: number } {
  const gaps = numbers.overall.shares.map((share, k) => share - (numbers.expected[k] as number));
  return { most: gaps.indexOf(Math.max(...gaps)), least: gaps.indexOf(Math.min(...gaps)) };
}

function unusualTeams(numbers: AgeGroupsNumbers): string[] {
  return numbers.teams.filter(({ reading }) => isConcern(reading)).map(({ label }) => label);
}

function chartOf(numbers: AgeGroupsNumbers, reading: Reading): Chart {
  const panel = (label: Message | string, ages: AgeShares & { readonly of: GroupId }, read: Reading) => ({
    label,
    n: ages.n,
    of: ages.of,
    reading: read,
    bars: numbers.expected.map((expected, k) => {
      const half = 1.959964 * Math.sqrt((expected * (1 - expected) * numbers.fit.designEffect) / ages.n);
      return {
        category: bandLabel(numbers, k),
        share: ages.shares[k] as number,
        expected,
        low: Math.max(0, expected - half),
        high: Math.min(1, expected + half),
      };
    }),
  });
  const { most, least } = extremes(numbers);
  return {
    id: "age-groups",
    kind: "category-shares",
    title: message("checks.age-groups.chart.title"),
    alternative: message("checks.age-groups.chart.alternative", {
      most: bandLabel(numbers, most),
      least: bandLabel(numbers, least),
      mostShare: numbers.overall.shares[most] as number,
      mostExpected: numbers.expected[most] as number,
      leastShare: numbers.overall.shares[least] as number,
      leastExpected: numbers.expected[least] as number,
    }),
    x: { label: message("checks.age-groups.chart.axis") },
    panels: [
      panel(message("checks.who.everyone"), { ...numbers.overall, of: numbers.of }, reading),
      ...toldOf(numbers.teams)
        .filter((team) => team.reading !== "unknown")
        .map((team) => panel(team.label, team, team.reading)),
    ],
  };
}

function tableOf(numbers: AgeGroupsNumbers): Table {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.who.column.${id}`),
    unit,
  });
  return {
    id: "age-groups",
    of: numbers.of,
    caption: message("checks.age-groups.table.caption"),
    columns: [
      column("age-group", "text"),
      column("children", "count"),
      column("share", "share"),
      column("low", "share"),
      column("high", "share"),
      column("expected", "share"),
    ],
    rows: numbers.expected.map((expected, k) => {
      const count = numbers.fit.counts[k] as number;
      const { low, high } = shareInterval(count, numbers.overall.n, numbers.fit.designEffect);
      return [bandLabel(numbers, k), count, numbers.overall.shares[k] as number, low, high, expected];
    }),
  };
}

export const ageGroups: Check<AgeGroupsNumbers> = {
  id: "age-groups",
  section: "who",
  needs: ["age"],
  sources: ["stable-population", "rao-scott-1981", "cochran-1954", "benjamini-hochberg-1995", "holm-1979"],

  compute({ children, settings, book }) {
    const bounds = boundsWithin(settings.ageRange.from, settings.ageRange.to);
    if (bounds.length < 3)
      return { cannotTell: message("checks.age-groups.cannot-tell.range", { ...settings.ageRange }) };
    const { underFiveMortality, growthOfBirths } = settings.expectations;
    const expectation = { underFiveMortality, growthOfBirths };
    const expected = expectedAgeShares(bounds, expectation);
    const codes = groupCodes(children, bounds);
    const fit = clusteredFit(measurementDesign(children), codes, expected);
    const least = Math.ceil(fewestExpected / Math.min(...expected));
    if (fit.n < least) return { cannotTell: message("checks.who.too-few", { n: fit.n, least }) };
    const overall = { ...agesOf(fit.counts, expected, fit.designEffect), probability: fit.probability };
    const subject = book.subject(
      "age/groups",
      Uint8Array.from(codes, (code) => (code >= 0 ? 1 : 0)),
    );
    const teams = teamsOf(children, codes, expected, fit.designEffect, subject);
    const adjusted = adjustTogether([overall.probability], [teams.map((team) => team.probability)]);
    return {
      of: subject.whole,
      bounds,
      expectation,
      expected,
      fit,
      overall,
      adjustedProbability: adjusted.overall[0] ?? Number.NaN,
      teams: teams.map((team, i) => {
        const adjustedProbability = adjusted.families[0]?.[i] ?? Number.NaN;
        return { ...team, adjustedProbability, reading: readDeparture(adjustedProbability, sizeOf(team), sizeLimits) };
      }),
    };
  },

  judge,

  quantities(numbers) {
    const { overall, fit, of } = numbers;
    const { probability, n } = overall;
    return [
      {
        id: "age-group-dissimilarity",
        of,
        unit: "share",
        value: overall.dissimilarity,
        n,
        chance: { expected: overall.dissimilarityByChance },
        probability,
      },
      { id: "age-group-chi-square", of, unit: "statistic", value: overall.chiSquare, n, probability },
      { id: "age-group-design-effect", of, unit: "ratio", value: fit.designEffect },
    ];
  },

  groups: (numbers) =>
    toldOf(numbers.teams).map((team) => ({
      by: "team",
      label: team.label,
      n: team.n,
      of: team.of,
      reading: team.reading,
      quantities:
        team.n === 0
          ? []
          : [
              {
                id: "age-group-dissimilarity",
                of: team.of,
                unit: "share",
                value: team.dissimilarity,
                n: team.n,
                chance: { expected: team.dissimilarityByChance },
              },
            ],
      ...known("adjustedProbability", team.adjustedProbability),
    })),

  say(numbers, reading) {
    const { overall, expected, expectation, fit } = numbers;
    const { most, least } = extremes(numbers);
    const teams = unusualTeams(numbers);
    const unusual = reading !== "expected";
    const values = {
      n: overall.n,
      most: bandLabel(numbers, most),
      mostShare: overall.shares[most] as number,
      mostExpected: expected[most] as number,
      least: bandLabel(numbers, least),
      leastShare: overall.shares[least] as number,
      leastExpected: expected[least] as number,
      teams,
      count: teams.length,
    };
    return {
      finding: message(`checks.age-groups.finding.${findingVariant(reading, overallReading(numbers))}`, values),
      meaning: [
        message("checks.age-groups.meaning.numbers", {
          dissimilarity: overall.dissimilarity,
          chance: overall.dissimilarityByChance,
        }),
        message(`checks.age-groups.meaning.${unusual ? "unusual" : "expected"}`, values),
        ...(teams.length === 0 ? [] : [message("checks.age-groups.meaning.teams", values)]),
      ],
      causes: unusual ? ["births", "guessed", "edge"].map((cause) => message(`checks.age-groups.cause.${cause}`)) : [],
      actions: unusual
        ? ["calendar", "standardize"].map((action) => message(`checks.age-groups.action.${action}`, values))
        : [],
      method: [
        message("checks.age-groups.method.model", { ...expectation }),
        message("checks.age-groups.method.test", {
          designEffect: fit.designEffect,
          explain: sizeLimits.explain,
          doubt: sizeLimits.doubt,
        }),
      ],
    };
  },

  charts: (numbers, reading) => [chartOf(numbers, reading)],
  tables: (numbers) => [tableOf(numbers)],
};
