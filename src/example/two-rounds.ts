import type { ExampleFaults } from "./options.js";
import { type District, type Fieldwork, teams, workingDays } from "./place.js";
import { populationTruth } from "./population.js";
import { alignedTable, percent } from "./readme.js";
import type { SampleSet, SetSurvey } from "./sample-set.js";

const seed = 20_250_700;
/** The scale of one team reads lighter with every day: that makes children look more wasted than they are. */
export const twoRoundsFaults = { scaleDrift: { team: "T2", kilogramsPerDay: -0.1 } } as const satisfies ExampleFaults;

interface Round {
  readonly name: string;
  readonly label: string;
  readonly words: string;
  readonly days: readonly number[];
  readonly faults: ExampleFaults;
  /** How far the district's mean weight-for-height lies from the province's in that round, in z. */
  readonly weightForHeightShift: number;
}

const rounds: readonly Round[] = [
  {
    name: "yundeth-2025-03",
    label: "2025-03",
    words: "March 2025",
    days: workingDays(2025, 3, 3),
    faults: {},
    weightForHeightShift: 0.06,
  },
  {
    name: "yundeth-2025-10",
    label: "2025-10",
    words: "October 2025",
    days: workingDays(2025, 10, 6),
    faults: twoRoundsFaults,
    weightForHeightShift: -0.18,
  },
];

function surveyOf(round: Round, index: number): SetSurvey {
  const district: District = {
    name: "Yundeth",
    children: 27_300,
    clustersInPopulation: 391,
    weightForHeightShift: round.weightForHeightShift,
    heightForAgeShift: -0.06,
  };
  const fieldwork: Fieldwork = { districts: [district], teams, days: round.days };
  const options = { seed: seed + index, size: 510, clusters: 30, fieldwork, faults: round.faults };
  const title = `Yundeth nutrition survey, ${round.words} (invented data)`;
  return { name: round.name, title, round: round.label, district, options };
}

function readmeOf(surveys: readonly SetSurvey[]): string {
  const truths = surveys.map(({ options }) => populationTruth(options.fieldwork));
  const [first, second] = truths;
  if (first === undefined || second === undefined) throw new Error("two rounds are wanted");
  const rise = 100 * (second.wasting - first.wasting);
  const rows = surveys.map(({ name, options }, i) => [
    `\`${name}.csv\``,
    String(options.seed),
    percent(truths[i]?.wasting ?? Number.NaN),
    percent(truths[i]?.stunting ?? Number.NaN),
  ]);
  return `# Two rounds of one district: invented data

Nothing here is real. The district of Yundeth, its teams and every child were made up by the generator in \`src/example\`.

\`\`\`
npm run tareline -- compare sample-input/two-rounds
\`\`\`

The district was surveyed in March and again in October 2025: 30 clusters and about 500 children each time, other clusters
in the second round, the same six teams.

## What is true

${alignedTable([["file", "seed", "true share wasted", "true share stunted"], ...rows])}

Wasting truly rises by ${rise.toFixed(1)} percentage points. Stunting does not change.

## The planted fault

Only in the second round: the scale of team ${twoRoundsFaults.scaleDrift.team} is right on the first day and reads ${-twoRoundsFaults.scaleDrift.kilogramsPerDay} kg lighter with every
survey day. Children it weighed look thinner than they are, so the rise that the two surveys show is larger than the true
one: the fault explains a part of it, and not all. Rounds in different months may also differ by season; here the generator
has no seasons.
`;
}

const surveys = rounds.map(surveyOf);

/** One district seen twice: a true rise of wasting, and a fault in the second round that makes it look larger. */
export const twoRounds: SampleSet = {
  folder: "two-rounds",
  title: "Yundeth, March and October 2025 (invented data)",
  surveys,
  readme: readmeOf(surveys),
};
