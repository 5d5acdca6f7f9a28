import type { ExampleFaults } from "./options.js";
import { type District, type Fieldwork, workingDays } from "./place.js";
import { populationTruth } from "./population.js";
import { alignedTable, percent } from "./readme.js";
import type { SampleSet, SetSurvey } from "./sample-set.js";

const seed = 20_252_000;

/** Means of weight-for-height in z from the generator's own: an ordinary district, one in need, and one on its way there. */
export const levels = { ordinary: 0.11, between: -0.2, high: -0.48 } as const;
type Level = keyof typeof levels;

/** The districts by crew, in the order in which the crew went through them: a fortnight each. */
const crews: readonly (readonly string[])[] = [
  ["Abrune", "Belquar", "Cedrith", "Dolvane"],
  ["Emmoth", "Farquist", "Gwessal", "Hurnet"],
  ["Iskelow", "Jorvend", "Kaldemi", "Lunvar"],
];
/** Districts that truly differ; all others are alike. */
export const highDistricts: readonly string[] = ["Dolvane", "Farquist", "Kaldemi"];
/** The round in which all twelve were surveyed. */
export const commonRound = "round 3";
export const faultyTeam = { district: "Gwessal", team: "B3" } as const;
const faults: ExampleFaults = { heightRounding: { team: faultyTeam.team, share: 0.85 } };

interface Visit {
  readonly name: string;
  readonly round: string;
  readonly level: Level;
  /** Monday of the first week. */
  readonly days: readonly number[];
}

const fortnights = [
  [3, 3],
  [3, 17],
  [3, 31],
  [4, 14],
] as const;

function commonVisit(name: string, turn: number): Visit {
  const [month, monday] = fortnights[turn] ?? fortnights[0];
  const level = highDistricts.includes(name) ? "high" : "ordinary";
  return { name, round: commonRound, level, days: workingDays(2025, month, monday) };
}

/** Rounds before the common one: a district that worsens, and one that stays as it was. */
const earlier: readonly Visit[] = [
  { name: "Dolvane", round: "round 1", level: "ordinary", days: workingDays(2024, 4, 15) },
  { name: "Dolvane", round: "round 2", level: "between", days: workingDays(2024, 9, 16) },
  { name: "Hurnet", round: "round 1", level: "ordinary", days: workingDays(2024, 4, 15) },
  { name: "Hurnet", round: "round 2", level: "ordinary", days: workingDays(2024, 9, 16) },
];

const crewOf = (name: string): number => crews.findIndex((districts) => districts.includes(name));

function surveyOf(visit: Visit, index: number): SetSurvey {
  const crew = crewOf(visit.name);
  const position = crews.flat().indexOf(visit.name);
  const district: District = {
    name: visit.name,
    children: 12_000 + 1_700 * ((5 * position) % 12),
    clustersInPopulation: 180 + 25 * ((5 * position) % 12),
    weightForHeightShift: levels[visit.level],
    heightForAgeShift: 0,
  };
  const letter = "ABC"[crew] ?? "A";
  const fieldwork: Fieldwork = {
    districts: [district],
    teams: [1, 2, 3, 4].map((number) => `${letter}${number}`),
    days: visit.days,
  };
  const isFaulty = visit.name === faultyTeam.district;
  const options = { seed: seed + index, size: 410, clusters: 20, fieldwork, ...(isFaulty ? { faults } : {}) };
  const name = `${visit.name} ${visit.round}`.toLowerCase().replaceAll(" ", "-");
  const title = `${visit.name} nutrition survey, ${visit.round} (invented data)`;
  const group = position < 6 ? "Upper Ossaline" : "Lower Ossaline";
  return { name, title, round: visit.round, group, district, options };
}

function readmeOf(surveys: readonly SetSurvey[]): string {
  const rows = surveys.map(({ name, options }) => {
    const truth = populationTruth(options.fieldwork);
    return [`\`${name}.csv\``, String(options.seed), percent(truth.wasting), percent(truth.stunting)];
  });
  return `# Twelve districts: invented data

Nothing here is real. The province of Ossaline, its districts, the teams and every child were made up by the generator in
\`src/example\`. The names are not those of any real place known to the authors.

\`\`\`
npm run tareline -- compare sample-input/twelve-districts
\`\`\`

Twelve districts were surveyed in March and April 2025: 20 clusters and about 400 children each. Three crews of four teams
went through four districts each, a fortnight in each. Two of the districts had been surveyed twice before, in April and in
September 2024.

## What is true

${alignedTable([["file", "seed", "true share wasted", "true share stunted"], ...rows])}

In the common round (${commonRound}, 2025) ${highDistricts.join(", ")} truly have more wasting, all three the same share; the
other nine are truly alike. Stunting is the same everywhere. Over its three rounds Dolvane truly worsens; Hurnet does not change.

## The planted fault

Team ${faultyTeam.team} writes ${percent(faults.heightRounding?.share ?? 0)} of its heights in ${faultyTeam.district} as whole or half centimetres. In the other districts
it works as carefully as all others do.
`;
}

const surveys = [...crews.flatMap((districts) => districts.map(commonVisit)), ...earlier].map(surveyOf);

/** Twelve small surveys of one round, three of them truly higher; two districts with two rounds before. */
export const twelveDistricts: SampleSet = {
  folder: "twelve-districts",
  title: "Twelve districts of Ossaline, 2024 and 2025 (invented data)",
  surveys,
  tiles: [
    ["", "Abrune", "Belquar", ""],
    ["Cedrith", "Dolvane", "Emmoth", "Farquist"],
    ["Gwessal", "Hurnet", "Iskelow", "Jorvend"],
    ["", "Kaldemi", "Lunvar", ""],
  ],
  readme: readmeOf(surveys),
};
