import { type Note, note } from "../settings/notes.js";
import { type InputProblem, inputProblem } from "../settings/problems.js";
import type { SurveyFile } from "../settings/survey-file.js";
import type { ReadColumns } from "./read-columns.js";
import { labelKey } from "./spellings.js";
import type { CodedColumn } from "./survey.js";

/** Numbers by stratum, with each stratum named as the data name it. */
function renamed<Value>(
  given: Readonly<Record<string, Value>>,
  labels: ReadonlyMap<string, string>,
): Record<string, Value> {
  return Object.fromEntries(Object.entries(given).map(([name, value]) => [labels.get(name) ?? name, value]));
}

/**
 * The settings with strata named as the data name them: in settings too, capital letters, spaces and the like tell no strata apart.
 * A name that the data have as it is stays.
 */
export function withStrataNamed(survey: SurveyFile, stratum: CodedColumn | null): SurveyFile {
  if (stratum === null) return survey;
  const byKey = new Map(stratum.labels.map((label) => [labelKey(label), label]));
  const { values } = survey;
  const [clusters, children, perCluster, planned] = [
    values["clusters-in-population"],
    values["children-in-population"],
    values["children-per-cluster"],
    values.planned?.clusters,
  ];
  const names = [clusters, children, perCluster, planned].flatMap((given) =>
    typeof given === "object" ? Object.keys(given) : [],
  );
  const labels = new Map<string, string>();
  for (const name of names) {
    const label = stratum.labels.includes(name) ? name : byKey.get(labelKey(name));
    if (label !== undefined && label !== name) labels.set(name, label);
  }
  if (labels.size === 0) return survey;
  return {
    ...survey,
    values: {
      ...values,
      ...(typeof clusters === "object" ? { "clusters-in-population": renamed(clusters, labels) } : {}),
      ...(children === undefined ? {} : { "children-in-population": renamed(children, labels) }),
      ...(typeof perCluster === "object" ? { "children-per-cluster": renamed(perCluster, labels) } : {}),
      ...(typeof planned === "object" ? { planned: { ...values.planned, clusters: renamed(planned, labels) } } : {}),
    },
  };
}

/** Strata under which the settings give numbers of clusters, and which the data do not have. */
export function stratumProblems(survey: SurveyFile | null, columns: ReadColumns): InputProblem[] {
  if (survey === null) return [];
  const labels = columns.labels.get("stratum")?.labels ?? [];
  const given = [
    [["clusters-in-population"], survey.values["clusters-in-population"]],
    [["planned", "clusters"], survey.values.planned?.clusters],
    [["children-in-population"], survey.values["children-in-population"]],
    [["children-per-cluster"], survey.values["children-per-cluster"]],
  ] as const;
  return given.flatMap(([path, counts]) => {
    if (counts === undefined || typeof counts === "number") return [];
    const unknown = Object.keys(counts).filter((label) => !labels.includes(label));
    return unknown.map((label) =>
      inputProblem("settings-stratum-unknown", survey.file, {
        line: survey.lineOf([...path, label]) ?? 1,
        value: label,
        details: { place: path.join(" > ") },
      }),
    );
  });
}

/** Weights are made of the numbers of children by stratum: every stratum of the data needs one. */
export function populationProblems(survey: SurveyFile | null, columns: ReadColumns): InputProblem[] {
  const given = survey?.values["children-in-population"];
  if (survey === null || given === undefined) return [];
  const line = survey.lineOf(["children-in-population"]) ?? 1;
  const without = (columns.labels.get("stratum")?.labels ?? []).filter((label) => given[label] === undefined);
  return without.map((label) =>
    inputProblem("settings-missing-key", survey.file, { line, value: `children-in-population > ${label}` }),
  );
}

/** Says where the weights come from, when the settings give the children of every stratum. */
export function weightNotes(survey: SurveyFile | null, columns: ReadColumns): Note[] {
  const given = survey?.values["children-in-population"];
  if (given === undefined) return [];
  const id = columns.samplingWeight === null ? "weights-from-population" : "population-not-used";
  return [note(id, { strata: Object.keys(given).length })];
}
