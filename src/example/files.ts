import { clusterListCsv } from "./cluster-list.js";
import type { ExampleFile } from "./example-file.js";
import type { ExampleFaults } from "./options.js";
import { exampleReadme } from "./readme.js";
import { setFiles } from "./sample-set.js";
import { type ExampleSurvey, generateSurvey } from "./survey.js";
import { toCsv } from "./to-csv.js";
import { toYaml } from "./to-yaml.js";
import { twelveDistricts } from "./twelve-districts.js";
import { twoRounds } from "./two-rounds.js";

export const exampleSeed = 20241002;

/** The faults of the sample survey. */
export const exampleFaults = {
  heightRounding: { team: "T4", share: 0.7 },
  ageHeaping: { district: "Yundeth", share: 0.6 },
  scaleDrift: { team: "T2", kilogramsPerDay: 0.1 },
  duplicateRows: { count: 4 },
} as const satisfies ExampleFaults;

/** The sample survey with its planted faults: data, settings and list of clusters. */
export function sampleSurveyFiles(
  faulty: ExampleSurvey = generateSurvey({ seed: exampleSeed, faults: exampleFaults }),
): readonly ExampleFile[] {
  return [
    { name: "quillmar.csv", content: toCsv(faulty) },
    {
      name: "quillmar.yaml",
      content: toYaml({
        title: "Quillmar nutrition survey, October 2024 (invented data)",
        name: "quillmar",
        data: "quillmar.csv",
        clusterList: "quillmar-clusters.csv",
        remark: "Invented data, with planted faults: no child, team or place in them is real.",
      }),
    },
    { name: "quillmar-clusters.csv", content: clusterListCsv(faulty) },
  ];
}

/** The sample survey, its clean twin, the sets to compare, their settings and descriptions: what stands in sample-input. */
export function exampleFiles(): readonly ExampleFile[] {
  const faulty = generateSurvey({ seed: exampleSeed, faults: exampleFaults });
  const clean = generateSurvey({ seed: exampleSeed });
  return [
    { name: "README.md", content: exampleReadme(faulty, clean) },
    ...sampleSurveyFiles(faulty),
    { name: "quillmar-clean.csv", content: toCsv(clean) },
    {
      name: "quillmar-clean.yaml",
      content: toYaml({
        title: "Quillmar nutrition survey, October 2024, clean twin (invented data)",
        name: "quillmar-clean",
        data: "quillmar-clean.csv",
        clusterList: "quillmar-clusters.csv",
        remark: "Invented data, the clean twin: the same children as in quillmar.csv, measured without the faults.",
      }),
    },
    ...setFiles(twoRounds),
    ...setFiles(twelveDistricts),
  ];
}
