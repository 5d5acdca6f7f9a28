import { z } from "zod";

const text = z.string().min(1);

const surveySchema = z.strictObject({
  /** A results.json, or a survey's settings or data, whose results are then computed. From the folder of compare.yaml. */
  file: text,
  place: text.optional(),
  /** Surveys of one round are set beside each other; those of one place are rounds of each other. */
  round: z.union([text, z.number()]).optional(),
  group: text.optional(),
  /** Children under five in the population. */
  population: z.number().positive().optional(),
  "clusters-revisited": z.boolean().optional(),
});

/** The whole of compare.yaml. Strict at every level, so that a misspelt key is named and not passed over. */
export const compareFileSchema = z.strictObject({
  title: text.optional(),
  name: text.optional(),
  language: z
    .string()
    .regex(/^[a-z]{2,3}(-[A-Za-z]+)?$/)
    .optional(),
  /** Exclusion rule to take all surveys under; chosen from what the surveys have in common where not given. */
  rule: z.enum(["fixed", "around-mean", "none"]).optional(),
  /** Ids of the estimates to compare; the usual ones where not given. */
  estimates: z.array(text).min(1).optional(),
  "season-note": text.optional(),
  surveys: z.array(surveySchema).min(1),
  /** Pairs to set against each other beside the usual ones: the surveys' files as listed above, or their names. */
  pairs: z.array(z.strictObject({ first: text, second: text })).optional(),
  /** Places laid out as on a schematic map, row by row; '' or '.' leaves a gap. */
  tiles: z.array(z.array(z.string())).optional(),
});
export type CompareFileValues = z.infer<typeof compareFileSchema>;

/** One survey to compare, as the settings or the command line name it. */
export interface ComparedSurvey {
  readonly file: string;
  readonly place: string | null;
  readonly round: string | null;
  readonly group: string | null;
  /** Children under five in the population. */
  readonly population: number | null;
  readonly clustersRevisited: boolean;
}

/** The settings of one comparison after compare.yaml has been read and defaults filled in. */
export interface CompareSettings {
  /** Short name in file-name form: the output folder. */
  readonly name: string;
  readonly title: string;
  readonly language: string;
  /** Exclusion rule asked for; null leaves the choice to the comparison. */
  readonly rule: string | null;
  /** Estimates asked for; null takes the usual ones. */
  readonly estimates: readonly string[] | null;
  readonly surveys: readonly ComparedSurvey[];
  /** Pairs asked for, by the surveys' keys or files; null where none are named. */
  readonly pairs: readonly { readonly first: string; readonly second: string }[] | null;
  /** Rows of place names; '' or '.' is a gap. */
  readonly tiles: readonly (readonly string[])[] | null;
  /** What the user says about the seasons, in the user's words; null where nothing. */
  readonly seasonNote: string | null;
}

/** What stands in for the settings' silence: the name and title made from the folder, and the language asked for. */
export interface CompareDefaults {
  readonly name: string;
  readonly title: string;
  readonly language: string;
}

/** A survey of which only the file is known. */
export function plainSurvey(file: string): ComparedSurvey {
  return { file, place: null, round: null, group: null, population: null, clustersRevisited: false };
}

/** Settings without a compare.yaml. */
export function plainSettings(files: readonly string[], defaults: CompareDefaults): CompareSettings {
  const nothing = { rule: null, estimates: null, pairs: null, tiles: null, seasonNote: null };
  return { ...defaults, ...nothing, surveys: files.map(plainSurvey) };
}

/** The settings that a compare.yaml states, with defaults where it says nothing. */
export function compareSettings(values: CompareFileValues, defaults: CompareDefaults): CompareSettings {
  return {
    name: defaults.name,
    title: values.title ?? defaults.title,
    language: values.language ?? defaults.language,
    rule: values.rule ?? null,
    estimates: values.estimates ?? null,
    surveys: values.surveys.map((survey) => ({
      file: survey.file,
      place: survey.place ?? null,
      round: survey.round === undefined ? null : String(survey.round),
      group: survey.group ?? null,
      population: survey.population ?? null,
      clustersRevisited: survey["clusters-revisited"] ?? false,
    })),
    pairs: values.pairs ?? null,
    tiles: values.tiles ?? null,
    seasonNote: values["season-note"] ?? null,
  };
}

/** The JSON Schema (draft 2020-12) of compare.yaml, for editors. */
export function compareFileJsonSchema(): Record<string, unknown> {
  return z.toJSONSchema(compareFileSchema, { io: "input" }) as Record<string, unknown>;
}
