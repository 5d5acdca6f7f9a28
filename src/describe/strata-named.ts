import { labelKey } from "./spellings.js";
import type { CodedColumn } from "./survey.js";
import type { SurveyFile } from "./survey-file.js";

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
  const [clusters, children, planned] = [
    values["clusters-in-population"],
    values["children-in-population"],
    values.planned?.clusters,
  ];
  const names = [clusters, children, planned].flatMap((given) => (typeof given === "object" ? Object.keys(given) : []));
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
      ...(typeof planned === "object" ? { planned: { ...values.planned, clusters: renamed(planned, labels) } } : {}),
    },
  };
}
