import { stringify } from "yaml";
import type { ExampleFile } from "./example-file.js";
import type { ExampleOptions } from "./options.js";
import type { District, Fieldwork } from "./place.js";
import { generateSurvey } from "./survey.js";
import { toCsv } from "./to-csv.js";
import { toYaml } from "./to-yaml.js";

/** One survey of a set made to be compared. */
export interface SetSurvey {
  /** In file-name form; its settings are `<name>.yaml`, its data `<name>.csv`. */
  readonly name: string;
  readonly title: string;
  readonly round: string;
  readonly group?: string;
  readonly district: District;
  readonly options: ExampleOptions & { readonly fieldwork: Fieldwork };
}

export interface SampleSet {
  /** Folder below the sample input. */
  readonly folder: string;
  readonly title: string;
  readonly surveys: readonly SetSurvey[];
  /** Rows of district names. */
  readonly tiles?: readonly (readonly string[])[];
  readonly readme: string;
}

function compareYaml({ folder, title, surveys, tiles }: SampleSet): string {
  const settings = {
    title,
    name: folder,
    language: "en",
    surveys: surveys.map(({ name, round, group, district }) => ({
      file: `${name}.yaml`,
      place: district.name,
      round,
      ...(group === undefined ? {} : { group }),
      population: district.children,
    })),
    ...(tiles === undefined ? {} : { tiles }),
  };
  return `# Invented data: no child, team or place in them is real.\n${stringify(settings, { lineWidth: 120, version: "1.1" })}`;
}

/** Data and settings of every survey of a set, the settings of the comparison, and a description. */
export function setFiles(set: SampleSet): readonly ExampleFile[] {
  const surveys = set.surveys.flatMap(({ name, title, district, options }) => [
    { name: `${set.folder}/${name}.csv`, content: toCsv(generateSurvey(options)) },
    {
      name: `${set.folder}/${name}.yaml`,
      content: toYaml({
        title,
        name,
        data: `${name}.csv`,
        remark: "Invented data: no child, team or place in them is real.",
        population: `Children under five in the invented district of ${district.name}`,
        fieldwork: options.fieldwork,
      }),
    },
  ]);
  return [
    { name: `${set.folder}/README.md`, content: set.readme },
    { name: `${set.folder}/compare.yaml`, content: compareYaml(set) },
    ...surveys,
  ];
}
