import { districts, province } from "./place.js";
import { boysPerGirl, growthOfBirths, populationTruth, underFiveMortality } from "./population.js";
import type { ExampleSurvey } from "./survey.js";

/** A share as the descriptions of the sample input write it. */
export function percent(share: number): string {
  return `${(100 * share).toFixed(1).replace(".0", "")}%`;
}

/** A Markdown table with its columns aligned; the first row is the head. */
export function alignedTable(rows: readonly (readonly string[])[]): string {
  const [head = [], ...body] = rows;
  const widths = head.map((_, column) => Math.max(3, ...rows.map((row) => (row[column] ?? "").length)));
  const line = (row: readonly string[]): string =>
    `| ${row.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join(" | ")} |`;
  return [line(head), line(widths.map((width) => "-".repeat(width))), ...body.map(line)].join("\n");
}

/** README.md of the sample input: the scenario, the planted faults, and how the files are made again. */
export function exampleReadme(faulty: ExampleSurvey, clean: ExampleSurvey): string {
  const truth = populationTruth();
  const { heightRounding, ageHeaping, scaleDrift, duplicateRows } = faulty.options.faults ?? {};
  const names = districts.map((district) => district.name).join(", ");
  return `# Sample input: invented data

Nothing here is real. The province of ${province}, its districts (${names}), the teams and every child were made up by
the generator in \`src/example\`. The names are not those of any real place known to the authors.

${alignedTable([
  ["file", "what it is"],
  ["`quillmar.csv`, `quillmar.yaml`", `a survey with four planted faults: ${faulty.records.length} rows`],
  [
    "`quillmar-clean.csv`, `quillmar-clean.yaml`",
    `its clean twin, the same children without the faults: ${clean.records.length} rows`,
  ],
  ["`quillmar-clusters.csv`", "the list of clusters drawn, for both: houses to visit, clusters held in reserve"],
])}

Both are made with the seed ${faulty.options.seed}. To make all files of this folder again, this one included:

\`\`\`
npm run tareline -- example --out sample-input
\`\`\`

## The scenario

After a poor harvest, the health office of ${province} wants to know how many children under five are wasted and how many
are stunted. In each of three districts, 12 clusters (villages or parts of towns) were drawn with a chance in proportion to
their size, and about 25 children under five measured in each. Six teams, T1 to T6, worked from 7 to 19 October
2024, Sunday excepted, two days a cluster. They went through the districts by turns, so that each team worked twice in each.

The teams weighed to 0.1 kg, measured length (under two years) or height to 0.1 cm and, from six months, arm circumference to
1 mm, and looked for swelling of both feet. Where there was a health card or birth certificate they copied the date of
birth; where there was none they settled the age in months with a calendar of local events. A family that refused, or was away, has a
row without measures. The form's export names its columns by group (\`child/weight_kg\`). Two of them, for the child's name and the
carer's phone, hold only a placeholder here, and no setting names them: what they hold must never reach a report. The office
added the sampling weight, since the districts differ in size and have equally many clusters.

One of the 36 clusters drawn, 313, was cut off by a flood; cluster 312, held in reserve, was visited in its place. The list of
clusters says so, and how many houses with children under five were to be visited in each: in one or two of them nobody was met.

## What is true

The generator knows the truth, as a survey never does. Over the whole invented population:

${alignedTable([
  ["", "true share"],
  ["wasting (weight-for-height below -2)", percent(truth.wasting)],
  ["severe wasting (below -3)", percent(truth.severeWasting)],
  ["stunting (height-for-age below -2)", percent(truth.stunting)],
  ["severe stunting (below -3)", percent(truth.severeStunting)],
])}

The mean of weight-for-height is ${truth.meanWeightForHeight.toFixed(2)} and that of height-for-age ${truth.meanHeightForAge.toFixed(2)}. One sample of 900 children lands some way off,
by chance. Clusters differ, so that design effects come out near 1.3 to 1.6. Ages follow births that grow by ${percent(growthOfBirths)} a year
and ${underFiveMortality} deaths before age five per 1,000 births; there are ${boysPerGirl} boys per girl.

Both files contain what careful work contains: errors of about 0.3 cm, 0.05 kg and 2 mm, recalled ages that are a little off,
one or two values in a hundred missing, some refusals, a few children in the other position, a few with oedema.

## The planted faults

Only in \`quillmar.csv\`:

1. Team ${heightRounding?.team} writes ${percent(heightRounding?.share ?? 0)} of its heights as whole or half centimetres.
2. In ${ageHeaping?.district}, ages were estimated: ${percent(ageHeaping?.share ?? 0)} of the children have no birth date and an age in months that
   is pulled to the nearest half or whole year (where that lies between 6 and 54 months).
3. The scale of team ${scaleDrift?.team} is right on the first day and reads ${scaleDrift?.kilogramsPerDay} kg heavier with every survey day.
4. ${duplicateRows?.count} children were entered twice: their rows stand in the file a second time.
`;
}
