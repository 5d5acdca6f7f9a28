import type { TextTable } from "../read/table.js";
import { shareOfPercentage } from "../results/main-estimates.js";
import type { ChosenColumns } from "./chosen-columns.js";
import { type Note, note } from "./notes.js";
import { columnsOf } from "./role-columns.js";
import type { SurveySettings } from "./settings.js";
import type { SurveyFile } from "./survey-file.js";
import type { SurveyFileValues } from "./survey-schema.js";

/** What is taken where the settings say nothing. Each is printed in the report's list of settings. */
export const defaults = {
  language: "en",
  ageRange: { from: 0, to: 59 },
  // A number with a fraction is taken as exact in any case.
  ageInMonths: "completed",
  // WHO fixed limits are the growth standards' own; 3 each side of the mean is common practice, no source.
  exclusions: { default: "fixed", widthAroundMean: 3 },
  // WHO growth standards: length is measured under two years, height from there.
  positionRule: "age",
  expectations: {
    // 104 to 107 boys are born for every 100 girls (IUSSP, Population Analysis for Policies and Programmes, PAPP101).
    boysPerGirl: 1.05,
    // A country of middling mortality and growth: our choice, no source; told in a note until the settings say otherwise.
    underFiveMortality: 50,
    growthOfBirths: 0.02,
  },
  seed: 1,
} as const;

/** A name in file-name form: letters, digits and hyphens; empty when nothing is left. */
export function slug(text: string): string {
  return text
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 60)
    .replace(/-+$/, "");
}

/** The data file's name without folder and ending. */
function baseName(file: string): string {
  const name = file.slice(Math.max(file.lastIndexOf("/"), file.lastIndexOf("\\")) + 1);
  return name.replace(/\.[A-Za-z0-9]{1,5}$/, "") || name;
}

function columnNames(chosen: ChosenColumns): Record<string, string | readonly string[]> {
  const names: Record<string, string | readonly string[]> = {};
  for (const [role, spec] of chosen.specs) {
    const columns = columnsOf(spec);
    names[role] = spec.options === undefined && columns.length === 1 ? spec.column : columns;
  }
  if (chosen.subgroups.length > 0) names.subgroups = chosen.subgroups;
  return names;
}

/** Numbers by stratum; a single number, for a survey without strata, stands under 'all'. */
function byStratum(given: number | Readonly<Record<string, number>>): Readonly<Record<string, number>> {
  return typeof given === "number" ? { all: given } : given;
}

function expectationsOf(given: SurveyFileValues["expectations"]): SurveySettings["expectations"] {
  return {
    boysPerGirl: given?.["boys-per-girl"] ?? defaults.expectations.boysPerGirl,
    underFiveMortality: given?.["under-five-mortality"] ?? defaults.expectations.underFiveMortality,
    growthOfBirths: given?.["growth-of-births"] ?? defaults.expectations.growthOfBirths,
  };
}

/** How the sample was drawn, without the keys that are not given. */
function samplingOf(given: SurveyFileValues["sampling"]): Pick<SurveySettings, "sampling"> {
  if (given?.drawn === undefined && given?.chances === undefined) return {};
  const { drawn, chances } = given;
  return { sampling: { ...(drawn === undefined ? {} : { drawn }), ...(chances === undefined ? {} : { chances }) } };
}

/** Notes on what the settings left unsaid and the figures depend on. */
function assumed(values: SurveyFileValues | null, chosen: ChosenColumns): Note[] {
  const { boysPerGirl, underFiveMortality, growthOfBirths } = expectationsOf(values?.expectations);
  const notes: Note[] = [];
  const drawn = values?.sampling?.drawn;
  const inOne = drawn === "children" || drawn === "everyone";
  if (!chosen.specs.has("cluster") && !inOne) notes.push(note("no-cluster"));
  if (!chosen.specs.has("oedema")) notes.push(note("no-oedema"));
  const given = values?.expectations;
  const complete = ["boys-per-girl", "under-five-mortality", "growth-of-births"].every((key) => key in (given ?? {}));
  if (!complete) notes.push(note("expectations-assumed", { boysPerGirl, underFiveMortality, growthOfBirths }));
  return notes;
}

/** Limits as shares; what is no percentage was refused when the file was read. */
const decisionsOf = (given: NonNullable<SurveyFileValues["decision"]>): NonNullable<SurveySettings["decisions"]> =>
  given.flatMap(({ estimate, limit, "hangs-on-it": about = "" }) => {
    const share = shareOfPercentage(String(limit));
    return share === null ? [] : [{ estimate, limit: share, about }];
  });

/** The settings of a survey with everything filled in that survey.yaml leaves out. */
export function makeSettings(
  table: TextTable,
  survey: SurveyFile | null,
  chosen: ChosenColumns,
  notes: readonly Note[],
): SurveySettings {
  const values = survey?.values ?? null;
  const base = baseName(table.file);
  const clusters = values?.["clusters-in-population"];
  const perCluster = values?.["children-per-cluster"];
  return {
    title: values?.title ?? base,
    name: slug(values?.name ?? "") || slug(values?.title ?? "") || slug(base) || "survey",
    population: values?.population ?? "",
    language: values?.language ?? defaults.language,
    invented: values?.invented ?? false,
    columns: columnNames(chosen),
    ageRange: { from: values?.ages?.from ?? defaults.ageRange.from, to: values?.ages?.to ?? defaults.ageRange.to },
    ageInMonths: values?.["age-in-months"] ?? defaults.ageInMonths,
    exclusions: {
      default: values?.exclusions?.default ?? defaults.exclusions.default,
      widthAroundMean: values?.exclusions?.["width-around-mean"] ?? defaults.exclusions.widthAroundMean,
    },
    positionRule: values?.["position-rule"] ?? defaults.positionRule,
    expectations: expectationsOf(values?.expectations),
    clustersInPopulation: clusters === undefined ? null : byStratum(clusters),
    ...(values?.["children-in-population"] === undefined
      ? {}
      : { childrenInPopulation: values["children-in-population"] }),
    ...(values?.decision === undefined ? {} : { decisions: decisionsOf(values.decision) }),
    ...(perCluster === undefined ? {} : { childrenPerCluster: byStratum(perCluster) }),
    ...samplingOf(values?.sampling),
    seed: values?.seed ?? defaults.seed,
    notes: [...notes, ...assumed(values, chosen)],
  };
}
