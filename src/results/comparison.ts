import { z } from "zod";
import { chartSchema, intervalSchema, messageSchema, readingSchema, sourceSchema, tableSchema } from "./schema.js";

/**
 * The contract of a comparison: comparison.json holds every number unrounded and every word as a message id. The drawing
 * reads nothing else.
 */

/** Two surveys set against each other. The difference is always second minus first. */
export const pairSchema = z.strictObject({
  /** '<first key>..<second key>'. */
  id: z.string(),
  /** 'rounds': one place, earlier first. 'places': two places in one round. */
  question: z.enum(["rounds", "places"]),
  first: z.string(),
  second: z.string(),
});
export type Pair = z.infer<typeof pairSchema>;

export const verdictSchema = z.enum(["rise", "fall", "no-clear-change", "cannot-tell"]);
export type Verdict = z.infer<typeof verdictSchema>;

/** The difference of one estimate between the two surveys of a pair. */
export const differenceSchema = z.strictObject({
  pair: z.string(),
  estimate: z.string(),
  /** Exclusion rule under which both were taken. */
  rule: z.string(),
  first: z.number().nullable(),
  second: z.number().nullable(),
  /** Second minus first; shares as fractions. */
  difference: z.number().nullable(),
  standardError: z.number().nullable(),
  degreesOfFreedom: z.number().nullable(),
  interval: intervalSchema.nullable(),
  probability: z.number().nullable(),
  /** After false-discovery control over the differences of the same question and estimate. */
  adjustedProbability: z.number().nullable(),
  /** 'rise' and 'fall' only where the adjusted probability is below 0.05. */
  verdict: verdictSchema,
  /** Why it cannot be told. */
  reason: messageSchema.optional(),
  /** What must be said with it: other months, clusters revisited, another weighting. */
  cautions: z.array(messageSchema),
  /** In how many paired scenarios the verdict stays; absent where none could be paired. */
  paired: z
    .strictObject({
      total: z.number(),
      stands: z.number(),
      /** Ids of the paired scenarios that change the verdict, the largest change first. */
      movers: z.array(z.string()),
      /** The difference with the findings of both surveys put right; null where none bears on it, absent in earlier comparisons. */
      repaired: z
        .strictObject({ difference: z.number(), interval: intervalSchema, verdict: verdictSchema })
        .nullable()
        .optional(),
    })
    .optional(),
});
export type Difference = z.infer<typeof differenceSchema>;

/** One scenario applied to both surveys of a pair. */
export const pairedScenarioSchema = z.strictObject({
  pair: z.string(),
  estimate: z.string(),
  /** 'exclusions/none', 'influence/worst-team', ... */
  scenario: z.string(),
  label: messageSchema,
  kind: z.enum(["estimate", "bound", "sensitivity"]),
  difference: z.number().nullable(),
  interval: intervalSchema.nullable(),
  verdict: verdictSchema,
  /** Why it could not be paired. */
  reason: messageSchema.optional(),
});
export type PairedScenario = z.infer<typeof pairedScenarioSchema>;

/** One finding with everything that belongs to it, drawn alike everywhere. */
export const blockSchema = z.strictObject({
  /** Unique on the page: its anchor. */
  id: z.string(),
  title: messageSchema,
  /** The finding as a sentence. */
  finding: messageSchema,
  reading: readingSchema.optional(),
  meaning: z.array(messageSchema),
  cautions: z.array(messageSchema),
  charts: z.array(chartSchema),
  tables: z.array(tableSchema),
  method: z.array(messageSchema),
  sources: z.array(z.string()),
});
export type Block = z.infer<typeof blockSchema>;

export const comparisonSectionSchema = z.enum([
  "comparability",
  "levels",
  "changes",
  "quality",
  "teams",
  "paired",
  "overview",
]);
export type ComparisonSection = z.infer<typeof comparisonSectionSchema>;

export const comparisonSchema = z.strictObject({
  format: z.literal("tareline-comparison"),
  version: z.literal(1),
  tool: z.strictObject({ name: z.literal("Tareline"), version: z.string() }),
  /** ISO day: --date, SOURCE_DATE_EPOCH or the last interview day of all surveys. */
  madeOn: z.string().nullable(),
  comparison: z.strictObject({
    name: z.string(),
    title: z.string(),
    language: z.string(),
    /** True when any survey is invented. */
    invented: z.boolean(),
  }),
  surveys: z.array(
    z.strictObject({
      key: z.string(),
      title: z.string(),
      place: z.string(),
      round: z.string().nullable(),
      group: z.string().nullable(),
      firstDay: z.string().nullable(),
      lastDay: z.string().nullable(),
      children: z.number(),
      clusters: z.number().nullable(),
      populationSize: z.number().nullable(),
      file: z.string(),
      sha256: z.string(),
      toolVersion: z.string(),
      formatVersion: z.number(),
    }),
  ),
  /** Files that could not be used, each with its reason; they end nothing else. */
  refused: z.array(z.strictObject({ file: z.string(), reason: messageSchema })),
  settings: z.record(z.string(), z.unknown()),
  pairs: z.array(pairSchema),
  differences: z.array(differenceSchema),
  /**
   * Every difference under every paired scenario. Where these are very many (hundreds of surveys): all scenarios of the pairs
   * that are pictured or that the settings name, and of the others only those that change the answer. `paired.total` of a
   * difference tells how many there were.
   */
  pairedScenarios: z.array(pairedScenarioSchema),
  /** Several surveys of one round taken together, for each estimate. */
  pooled: z.array(
    z.strictObject({
      estimate: z.string(),
      round: z.string().nullable(),
      surveys: z.array(z.string()),
      /** Stratified combination with population sizes; null where these are not given for all. */
      combined: z
        .strictObject({
          value: z.number(),
          standardError: z.number(),
          degreesOfFreedom: z.number(),
          interval: intervalSchema.nullable(),
        })
        .nullable(),
      heterogeneity: z
        .strictObject({
          /** Cochran's Q with its degrees of freedom and upper-tail probability. */
          q: z.number(),
          degreesOfFreedom: z.number(),
          probability: z.number(),
          /** 0 to 1. */
          iSquared: z.number(),
          iSquaredInterval: intervalSchema.nullable(),
          /** Variance between surveys by restricted maximum likelihood, in squared units of the estimate. */
          tauSquared: z.number(),
          tauSquaredInterval: intervalSchema.nullable(),
        })
        .nullable(),
      reason: messageSchema.optional(),
    }),
  ),
  sections: z.array(
    z.strictObject({ id: comparisonSectionSchema, heading: messageSchema, blocks: z.array(blockSchema) }),
  ),
  story: z.strictObject({
    sentence: messageSchema,
    paragraphs: z.array(messageSchema),
    findings: z.array(z.strictObject({ block: z.string(), message: messageSchema })),
    next: z.array(messageSchema),
    cautions: z.array(messageSchema),
  }),
  sources: z.array(sourceSchema),
});
export type Comparison = z.infer<typeof comparisonSchema>;
