import { stringify } from "yaml";
import { type Fieldwork, quillmar } from "./place.js";
import { boysPerGirl, growthOfBirths, underFiveMortality } from "./population.js";

export interface ExampleYaml {
  readonly title: string;
  /** Short name in file-name form. */
  readonly name: string;
  /** File name of the data. */
  readonly data: string;
  /** One line of comment at the top. */
  readonly remark: string;
  /** File name of the list of clusters drawn, where there is one. */
  readonly clusterList?: string;
  /** Whom it speaks of; the sample province's children where not given. */
  readonly population?: string;
  /** Where it was made; in the sample province where not given. With one district there are no strata and no weights. */
  readonly fieldwork?: Fieldwork;
}

function clustersInPopulation({ districts }: Fieldwork): number | Readonly<Record<string, number>> {
  if (districts.length === 1) return districts[0].clustersInPopulation;
  return Object.fromEntries(districts.map((d) => [d.name, d.clustersInPopulation]));
}

/** Where the list of clusters stands, and which of its columns is what; the houses to visit are those with children. */
function planLines(file: string) {
  const columns = {
    cluster: "cluster_no",
    stratum: "district",
    "planned-households": "houses_to_visit",
    "households-in-frame": "houses_counted",
    replacement: "in_reserve",
  };
  return { clusters: { file, columns }, planned: { households: "with-children" } };
}

/**
 * The survey.yaml of an invented survey: which column is what, how it is coded, and how the sample was drawn. It says how
 * many clusters the districts have, so it does not fit a survey with more clusters than that.
 */
export function toYaml(given: ExampleYaml): string {
  const fieldwork = given.fieldwork ?? quillmar;
  const strata = { stratum: "place/district", "sampling-weight": "office/sampling_weight" };
  const settings = {
    title: given.title,
    name: given.name,
    population: given.population ?? "Children under five in the three districts of the invented province of Quillmar",
    language: "en",
    invented: true,
    data: given.data,
    columns: {
      cluster: "place/cluster_no",
      ...(fieldwork.districts.length > 1 ? strata : {}),
      area: "place/kind",
      household: "place/house_no",
      team: "visit/team_code",
      "interview-date": { column: "visit/today", "date-order": "year-month-day" },
      sex: { column: "child/sex", codes: { male: "boy", female: "girl" } },
      "birth-date": { column: "child/birth_date", "date-order": "year-month-day" },
      "age-months": "child/age_months",
      "age-known-how": {
        column: "child/age_known_by",
        codes: { documented: ["health card", "birth certificate"], recalled: "calendar of events" },
        missing: "not known",
      },
      weight: { column: "child/weight_kg", unit: "kg" },
      height: { column: "child/height_cm", unit: "cm" },
      position: { column: "child/measured_how", codes: { lying: "lying", standing: "standing" } },
      "arm-circumference": { column: "child/arm_mm", unit: "mm" },
      oedema: { column: "child/swelling_both_feet", codes: { present: "yes", absent: "no" } },
    },
    "age-in-months": "completed",
    "position-rule": "age",
    expectations: {
      "boys-per-girl": boysPerGirl,
      "under-five-mortality": underFiveMortality,
      "growth-of-births": growthOfBirths,
    },
    "clusters-in-population": clustersInPopulation(fieldwork),
    ...(given.clusterList === undefined ? {} : planLines(given.clusterList)),
    seed: 1,
  };
  return `# ${given.remark}\n${stringify(settings, { lineWidth: 120, version: "1.1" })}`;
}
