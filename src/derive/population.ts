import { type InputProblem, inputProblem } from "../settings/problems.js";
import type { SurveySettings } from "../settings/settings.js";
import type { SurveyFile } from "../settings/survey-file.js";
import type { Children } from "./children.js";

type Counts = Readonly<Record<string, number>>;

/** The key of a number that is given for the survey as a whole. */
const whole = "all";

/** Children, or different clusters, by the label of their stratum, and those of the survey as a whole. */
function countedBy({ stratum, cluster, count }: Children, what: "children" | "clusters"): ReadonlyMap<string, number> {
  const met = new Map<string, Set<string>>([[whole, new Set()]]);
  for (let i = 0; i < count; i++) {
    const label = stratum?.labels[stratum.codes[i] as number] ?? "";
    const code = cluster?.codes[i] ?? -1;
    if (what === "clusters" && code < 0) continue;
    const one = what === "children" ? String(i) : JSON.stringify([label, code]);
    met.get(whole)?.add(one);
    met.set(label, (met.get(label) ?? new Set()).add(one));
  }
  return new Map([...met].map(([label, all]) => [label, all.size]));
}

/**
 * Numbers of the population in the settings that are smaller than what the survey itself met: fewer clusters than were reached, fewer
 * children than were measured, in all or in a cluster on average. Weights and the correction for a finite population made of them would be wrong.
 */
export function populationProblems(
  children: Children,
  settings: SurveySettings,
  survey: SurveyFile | null,
): InputProblem[] {
  if (survey === null) return [];
  const { clustersInPopulation, childrenInPopulation, childrenPerCluster } = settings;
  const [clusters, kids] = [countedBy(children, "clusters"), countedBy(children, "children")];
  const perCluster = new Map(
    [...kids].map(([label, met]) => [label, Math.round((10 * met) / (clusters.get(label) ?? 0)) / 10]),
  );
  const countedAs = { clusters, children: kids, perCluster };
  const smaller = (key: string, what: keyof typeof countedAs, given: Counts | null | undefined): InputProblem[] => {
    const counted = countedAs[what];
    return Object.entries(given ?? {}).flatMap(([label, number]) => {
      const met = counted.get(label) ?? 0;
      if (met <= number || met === Number.POSITIVE_INFINITY) return [];
      const line = survey.lineOf([key, label]) ?? survey.lineOf([key]) ?? 1;
      const details = { place: label === whole ? key : `${key} > ${label}`, what, met };
      return [inputProblem("population-below-sample", survey.file, { line, value: String(number), details })];
    });
  };
  return [
    ...smaller("clusters-in-population", "clusters", clustersInPopulation),
    ...smaller("children-in-population", "children", childrenInPopulation),
    ...smaller("children-per-cluster", "perCluster", childrenPerCluster),
  ];
}
