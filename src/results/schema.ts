import { z } from "zod";
import { groupIdSchema, registeredGroupSchema } from "./group.js";

/**
 * The contract between computing and drawing: everything a report prints stands in one results.json, unrounded, with
 * words as message ids. `render/` reads nothing else, so a report can be redrawn in another language without the data.
 */

/** Circle signs in the report; never added up into a score. */
export const readingSchema = z.enum(["expected", "explain", "doubt", "unknown"]);
export type Reading = z.infer<typeof readingSchema>;

/** A message id of templates/locales with raw values: a number stays a number, a list is joined by the language. */
export type Message = { readonly id: string; readonly values: Readonly<Record<string, MessageValue>> };
export type MessageValue = string | number | Message | readonly (string | number | Message)[];
const messageValueSchema: z.ZodType<MessageValue> = z.lazy(() =>
  z.union([z.string(), z.number(), messageSchema, z.array(z.union([z.string(), z.number(), messageSchema]))]),
);
export const messageSchema: z.ZodType<Message> = z.lazy(() =>
  z.strictObject({ id: z.string(), values: z.record(z.string(), messageValueSchema) }),
);

/** How a number is written: shares are stored as fractions (0.123) and written as percentages. */
export const unitSchema = z.enum([
  "count",
  "share",
  /** A difference of two shares: stored as a fraction, written in percentage points with its sign. */
  "share-difference",
  "ratio",
  "index",
  "z",
  "kilogram",
  "centimetre",
  "millimetre",
  "month",
  "day",
  "probability",
  "statistic",
  "degrees-of-freedom",
]);
export type Unit = z.infer<typeof unitSchema>;

export const intervalSchema = z.strictObject({ low: z.number(), high: z.number(), level: z.number() });
export type Interval = z.infer<typeof intervalSchema>;

/** One number of a check, with what it would be by chance alone. `label` is the message `quantity.<id>`. */
export const quantitySchema = z.strictObject({
  id: z.string(),
  /** The children it speaks of. */
  of: groupIdSchema,
  unit: unitSchema,
  /** Null when it could not be computed: then `reason` says why. */
  value: z.number().nullable(),
  reason: messageSchema.optional(),
  n: z.number().optional(),
  interval: intervalSchema.optional(),
  /** What chance alone, or the cited expectation, gives at this n: its centre and the limits that 95 in 100 fall within. */
  chance: z
    .strictObject({ expected: z.number().optional(), low: z.number().optional(), high: z.number().optional() })
    .optional(),
  probability: z.number().optional(),
});
export type Quantity = z.infer<typeof quantitySchema>;

export const cellSchema = z.union([z.number(), z.string(), messageSchema, z.null()]);
export type TableCell = z.infer<typeof cellSchema>;

/** A table any renderer can draw; also written to tables/<id>.csv. A null cell prints as an em dash, in csv empty. */
/** The name of a table is that of its file. */
const fileName = z.string().regex(/^[A-Za-z0-9][A-Za-z0-9._-]*$/);

export const tableSchema = z.strictObject({
  id: fileName,
  caption: messageSchema,
  columns: z.array(
    z.strictObject({
      id: z.string(),
      label: messageSchema,
      unit: z.union([unitSchema, z.literal("text"), z.literal("reading")]),
    }),
  ),
  rows: z.array(z.array(cellSchema)),
  /** The children that all rows speak of, or those of each row. */
  of: z.union([groupIdSchema, z.array(groupIdSchema)]),
  notes: z.array(messageSchema).optional(),
});
export type Table = z.infer<typeof tableSchema>;

const axisSchema = z.strictObject({ label: messageSchema, unit: unitSchema });
const chartBase = { id: z.string(), title: messageSchema, alternative: messageSchema };
/** A closed list of pictures. `alternative` is the one-sentence text alternative and says the finding. */
export const chartSchema = z.discriminatedUnion("kind", [
  /** Share of each digit (or other category) against its expected share and the band chance alone gives; one panel per group. */
  z.strictObject({
    ...chartBase,
    kind: z.literal("category-shares"),
    x: z.strictObject({ label: messageSchema }),
    panels: z.array(
      z.strictObject({
        label: z.union([messageSchema, z.string()]),
        n: z.number(),
        of: groupIdSchema,
        reading: readingSchema.optional(),
        bars: z.array(
          z.strictObject({
            category: z.union([z.string(), messageSchema]),
            share: z.number(),
            expected: z.number(),
            low: z.number(),
            high: z.number(),
          }),
        ),
      }),
    ),
  }),
  /** Observed distribution of z-scores (density per bin) against the standard's own normal curve; one panel per index or group. */
  z.strictObject({
    ...chartBase,
    kind: z.literal("z-distribution"),
    panels: z.array(
      z.strictObject({
        label: z.union([messageSchema, z.string()]),
        n: z.number(),
        of: groupIdSchema,
        mean: z.number(),
        standardDeviation: z.number(),
        bins: z.array(z.strictObject({ from: z.number(), to: z.number(), count: z.number() })),
      }),
    ),
  }),
  /** Children per month (or other step) of age, observed and expected. */
  z.strictObject({
    ...chartBase,
    kind: z.literal("counts-over"),
    x: axisSchema,
    of: groupIdSchema,
    bars: z.array(
      z.strictObject({
        at: z.number(),
        count: z.number(),
        expected: z.number(),
        low: z.number(),
        high: z.number(),
        emphasis: z.boolean(),
      }),
    ),
  }),
  /** A value with its interval per group, on one axis, with optional reference lines and band. */
  z.strictObject({
    ...chartBase,
    kind: z.literal("intervals"),
    x: axisSchema,
    /** What `n` counts; children where absent, nothing where null: then no column of counts is drawn. */
    counted: messageSchema.nullable().optional(),
    band: z.strictObject({ low: z.number(), high: z.number(), label: messageSchema }).optional(),
    /** Where most others lie, drawn as a bracket: what is common, not what is good. */
    bracket: z.strictObject({ low: z.number(), high: z.number(), label: messageSchema }).optional(),
    lines: z.array(z.strictObject({ at: z.number(), label: messageSchema })),
    rows: z.array(
      z.strictObject({
        group: z.union([messageSchema, z.string()]).optional(),
        label: z.union([messageSchema, z.string()]),
        value: z.number().nullable(),
        low: z.number().nullable(),
        high: z.number().nullable(),
        n: z.number(),
        of: groupIdSchema,
        reading: readingSchema.optional(),
        /** 'marked' rows (25 to 49 children) are drawn hollow. */
        marked: z.boolean().optional(),
        /** The row gives another answer than the one it is held against. */
        moves: z.boolean().optional(),
      }),
    ),
  }),
  /** Prevalence with intervals against the published class bands. */
  z.strictObject({
    ...chartBase,
    kind: z.literal("prevalence-bands"),
    rows: z.array(
      z.strictObject({
        label: z.union([messageSchema, z.string()]),
        value: z.number().nullable(),
        low: z.number().nullable(),
        high: z.number().nullable(),
        n: z.number(),
        of: groupIdSchema,
        marked: z.boolean().optional(),
        bands: z.array(z.strictObject({ from: z.number(), to: z.number(), label: messageSchema })),
      }),
    ),
  }),
  /** One or more lines with optional bands, for drift over days or prevalence against instrument error. */
  z.strictObject({
    ...chartBase,
    kind: z.literal("lines"),
    x: axisSchema,
    y: axisSchema,
    verticals: z.array(z.strictObject({ at: z.number(), label: messageSchema })),
    horizontals: z.array(z.strictObject({ at: z.number(), label: messageSchema })),
    panels: z.array(
      z.strictObject({
        label: z.union([messageSchema, z.string()]),
        /** The children of the whole panel, whom the fitted line speaks of. */
        of: groupIdSchema,
        reading: readingSchema.optional(),
        points: z.array(
          z.strictObject({
            x: z.number(),
            y: z.number(),
            of: groupIdSchema,
            low: z.number().optional(),
            high: z.number().optional(),
            n: z.number().optional(),
          }),
        ),
        fitted: z.array(z.strictObject({ x: z.number(), y: z.number() })),
      }),
    ),
  }),
  /** Estimates of one place by round, over the calendar; one panel per place, all on the same axes. */
  z.strictObject({
    ...chartBase,
    kind: z.literal("rounds"),
    y: axisSchema,
    panels: z.array(
      z.strictObject({
        label: z.union([messageSchema, z.string()]),
        points: z.array(
          z.strictObject({
            label: z.string(),
            /** ISO day in the middle of the survey. */
            day: z.string(),
            value: z.number(),
            low: z.number().nullable(),
            high: z.number().nullable(),
            n: z.number(),
            marked: z.boolean().optional(),
          }),
        ),
        /** Whether the last step is clear. */
        emphasis: z.boolean(),
      }),
    ),
  }),
  /** A quality figure of several surveys as dots with intervals, each on the band that chance alone gives at its own n; one panel per figure. */
  z.strictObject({
    ...chartBase,
    kind: z.literal("against-chance"),
    panels: z.array(
      z.strictObject({
        label: messageSchema,
        unit: unitSchema,
        rows: z.array(
          z.strictObject({
            label: z.union([messageSchema, z.string()]),
            n: z.number(),
            value: z.number(),
            low: z.number().nullable(),
            high: z.number().nullable(),
            /** What chance alone, or the cited expectation, gives there. */
            expected: z.number().nullable(),
            chanceLow: z.number().nullable(),
            chanceHigh: z.number().nullable(),
            reading: readingSchema,
          }),
        ),
      }),
    ),
  }),
  /** Places laid out on a grid as on a schematic map: in each tile the rounds of one estimate with intervals, all tiles on one axis. */
  z.strictObject({
    ...chartBase,
    kind: z.literal("tiles"),
    y: axisSchema,
    /** True where the user laid them out: west stays at the left in every language. */
    asMap: z.boolean().optional(),
    tiles: z.array(
      z.strictObject({
        label: z.string(),
        /** Heading over the rows of tiles that share it. A row holds tiles of one group only. */
        group: z.string().optional(),
        /** From 0, top and start (of a map: left). */
        row: z.number(),
        column: z.number(),
        /** A clear rise or fall at the last step. */
        verdict: z.enum(["rise", "fall", "no-clear-change", "cannot-tell"]).nullable(),
        points: z.array(
          z.strictObject({
            label: z.string(),
            value: z.number(),
            low: z.number().nullable(),
            high: z.number().nullable(),
          }),
        ),
      }),
    ),
  }),
]);
export type Chart = z.infer<typeof chartSchema>;
export type ChartKind = Chart["kind"];

export const sectionSchema = z.enum(["who", "how", "what", "where"]);
export type Section = z.infer<typeof sectionSchema>;

/** A group inside a check (a team, an area, an age group) read on its own. */
export const groupReadingSchema = z.strictObject({
  by: z.string(),
  label: z.string(),
  n: z.number(),
  of: groupIdSchema,
  reading: readingSchema,
  quantities: z.array(quantitySchema),
  /** p-value after false-discovery control over the groups of this check, where one was made. */
  adjustedProbability: z.number().optional(),
});
export type GroupReading = z.infer<typeof groupReadingSchema>;

export const checkResultSchema = z.strictObject({
  id: z.string(),
  section: sectionSchema,
  reading: readingSchema,
  /** Why the check cannot tell, or failed. */
  reason: messageSchema.optional(),
  quantities: z.array(quantitySchema),
  groups: z.array(groupReadingSchema),
  /** The finding as a heading sentence. */
  finding: messageSchema,
  /** What it means, in the order to be read. */
  meaning: z.array(messageSchema),
  /** Honest causes, before anything else is suspected. */
  causes: z.array(messageSchema),
  actions: z.array(messageSchema),
  /** How it was computed. */
  method: z.array(messageSchema),
  sources: z.array(z.string()),
  charts: z.array(chartSchema),
  tables: z.array(tableSchema),
  /** How far what was found could move the estimates, in words; set when the consequence was computed. */
  consequence: messageSchema.optional(),
  /** How many rows of the file someone should look at; the rows themselves are in rows-to-check.csv only. */
  rowsToCheck: z.number(),
});
export type CheckResult = z.infer<typeof checkResultSchema>;

export const classificationSchema = z.strictObject({
  /** 'who-unicef-2019' or 'who-1995': always printed with its year. */
  scheme: z.string(),
  /** Every class of the scheme with its lower limit, lowest first: what the picture of the class bands is drawn from. */
  limits: z.array(z.strictObject({ class: z.string(), from: z.number() })).optional(),
  /** Class of the estimate, as a message id part (low, medium ...). */
  at: z.string(),
  /** Every class that the interval touches, lowest first. */
  span: z.array(z.string()),
  /** Probability that the true value lies in each class of the scheme, under the interval's own (logit) normal model. */
  probabilities: z.array(z.strictObject({ class: z.string(), probability: z.number() })),
});
export type Classification = z.infer<typeof classificationSchema>;

export const estimateCellSchema = z.strictObject({
  label: z.union([z.string(), messageSchema]),
  /** Children counted, unweighted. */
  n: z.number(),
  of: groupIdSchema,
  clusters: z.number().nullable(),
  /** 'marked' 25 to 49 children; 'withheld' fewer than 25, or to protect another withheld cell; 'unknown' could not be computed. */
  status: z.enum(["shown", "marked", "withheld", "unknown"]),
  reason: messageSchema.optional(),
  value: z.number().nullable(),
  standardError: z.number().nullable(),
  degreesOfFreedom: z.number().nullable(),
  interval: intervalSchema.nullable(),
  intervalMethod: z.enum(["logit", "t", "exact-effective-n"]).nullable(),
  designEffect: z.number().nullable(),
  /** Standard deviation with n - 1, for means. */
  standardDeviation: z.number().nullable().optional(),
  classification: classificationSchema.optional(),
});
export type EstimateCell = z.infer<typeof estimateCellSchema>;

/** What the file does not show of the sampling design, or that what it shows cannot carry. */
export const designGapSchema = z.enum([
  /** No cluster column: intervals are those of a simple random sample. */
  "no-clusters",
  /** A cluster column that names nearly every child. */
  "cluster-per-child",
  /** Fewer than 10 clusters. */
  "few-clusters",
  /** Strata with one cluster only. */
  "single-cluster-strata",
  /** Children of the strata had unlike chances, and there are no weights. */
  "unlike-chances",
  /** The survey says that chances were unequal, and there are no weights. */
  "weights-missing",
  /** Strata without weights, and nothing that tells the chances. */
  "weights-unknown",
  /** One child holds a large share of all weight. */
  "heavy-child",
  /** Kish's effective number is small. */
  "uneven-weights",
  /** A design effect that is implausible. */
  "odd-design-effect",
]);
export type DesignGapId = z.infer<typeof designGapSchema>;

export const estimateResultSchema = z.strictObject({
  id: z.string(),
  /** Which part of the prevalence section it stands in: wasting, acute-malnutrition, stunting, underweight, overweight, mean. */
  family: z.string(),
  kind: z.enum(["proportion", "mean"]),
  /** Set when the estimate needs something the data lack. */
  reason: messageSchema.optional(),
  overall: estimateCellSchema.nullable(),
  /** What is not known of the design behind it: whoever makes a claim of the figure says so, or makes none. Absent: nothing. */
  designUnknown: z.array(designGapSchema).optional(),
  /**
   * The overall interval under an assumed design effect, and the classes that it touches, where the clusters are not known.
   * Absent where they are.
   */
  widened: z.strictObject({ designEffect: z.number(), interval: intervalSchema, span: z.array(z.string()) }).optional(),
  /** The same estimate under the other exclusion rules. */
  byExclusion: z.array(z.strictObject({ rule: z.string(), excluded: z.number(), cell: estimateCellSchema })),
  subgroups: z.array(
    z.strictObject({
      /** sex, age-group, stratum, area, team or a column the user named (then `columnName` holds it). */
      by: z.string(),
      columnName: z.string().optional(),
      cells: z.array(estimateCellSchema),
      /** Rao-Scott second-order F test that all groups share one prevalence; absent where it cannot be made. */
      test: z
        .strictObject({
          statistic: z.number(),
          numeratorDf: z.number(),
          denominatorDf: z.number(),
          probability: z.number(),
        })
        .optional(),
    }),
  ),
  sources: z.array(z.string()),
});
export type EstimateResult = z.infer<typeof estimateResultSchema>;

/** One way the survey could have come out, re-estimated with the full design. */
export const scenarioResultSchema = z.strictObject({
  /** '<file>/<variant>', for example 'leave-out-team/3'. */
  id: z.string(),
  /** exclusions, influence, weights, ages-covered, digits, ages, position, missing, spread, together. */
  group: z.string(),
  label: messageSchema,
  /** 'estimate' another honest estimate; 'bound' a best or worst case; 'sensitivity' rests on a contested assumption. Only estimates and bounds are counted in the sentence. */
  kind: z.enum(["estimate", "bound", "sensitivity"]),
  /** Checks whose finding this scenario follows up. */
  checks: z.array(z.string()),
  note: messageSchema.optional(),
  /** Why it could not be computed; then `outcomes` is empty. */
  reason: messageSchema.optional(),
  outcomes: z.array(
    z.strictObject({
      estimate: z.string(),
      of: groupIdSchema,
      value: z.number(),
      low: z.number().nullable(),
      high: z.number().nullable(),
      /** Standard error and degrees of freedom the interval rests on; null where none can be had. */
      standardError: z.number().nullable(),
      degreesOfFreedom: z.number().nullable(),
      /** value minus the published estimate. */
      shift: z.number(),
      class: z.string().nullable(),
      /** True when the class differs from that of the published estimate. */
      moves: z.boolean(),
    }),
  ),
});
export type ScenarioResult = z.infer<typeof scenarioResultSchema>;

/** The smallest constant error, shared by all instruments of a kind, that would undo what is said. No survey shows it by itself. */
export const tippingPointSchema = z.strictObject({
  estimate: z.string(),
  /** The claim that would no longer hold: its limit, and the side of it that the true value is said to lie on. */
  limit: z.number(),
  side: z.enum(["above", "below"]),
  instrument: z.enum(["scale", "board", "tape"]),
  /** The instruments showed more, or less, than the truth. */
  direction: z.enum(["reads-high", "reads-low"]),
  of: groupIdSchema,
  unit: z.enum(["gram", "millimetre"]),
  /** Size of the error, positive; null when none up to `searchedTo` does it. */
  error: z.number().nullable(),
  searchedTo: z.number(),
  /** The estimate with that error taken off. */
  valueAfter: z.number().nullable(),
  /** The step the instrument is read to, and the error a daily check lets pass, in `unit`. */
  readingStep: z.number(),
  tolerance: z.number(),
  /** True when the error is larger than the tolerance, so that a daily check against a known weight or length would have shown it. */
  caught: z.boolean().nullable(),
});
export type TippingPoint = z.infer<typeof tippingPointSchema>;

/** A limit that the reader's decision hangs on. */
export const decisionSchema = z.strictObject({
  estimate: z.string(),
  /** A share, above 0 and below 1. */
  limit: z.number(),
  /** What hangs on it, in the reader's words; empty where not said. */
  about: z.string(),
});
export type Decision = z.infer<typeof decisionSchema>;

/**
 * A main estimate as the claims rest on it: what chance leaves open, and the estimate in every draw of the findings put right.
 * All that is needed to judge another limit.
 */
export const answerSchema = z.strictObject({
  estimate: z.string(),
  /** The children of the published estimate. */
  of: groupIdSchema,
  value: z.number(),
  standardError: z.number().nullable(),
  degreesOfFreedom: z.number().nullable(),
  /** Children in the denominator. */
  n: z.number(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  /** Where the clusters are not known: chances are read with standard errors widened by the square root of this design effect. */
  assumedDesignEffect: z.number().optional(),
  /** What of the design allows no claim at all. */
  noClaim: designGapSchema.optional(),
  /** Where the published classes begin, lowest first; none where no class is published for it. */
  limits: z.array(z.strictObject({ class: z.string(), from: z.number() })),
  /** Which scheme they are of. */
  scheme: z.string().nullable(),
  /** The interval with the findings put right: the 2.5 to 97.5 % of the draws' mixture. Null where no finding bears on it. */
  repaired: z.strictObject({ low: z.number(), high: z.number() }).nullable(),
  /** One entry a draw. Null where no finding bears on it, or where the draws would tell of few children (`note`). */
  draws: z
    .strictObject({
      of: groupIdSchema,
      value: z.array(z.number()),
      standardError: z.array(z.number()),
      degreesOfFreedom: z.number(),
      n: z.number(),
    })
    .nullable(),
  note: messageSchema.optional(),
});
export type Answer = z.infer<typeof answerSchema>;

/** Whether the true value lies above a limit: what can be said, and what leaves it open otherwise. */
export const claimSchema = z.strictObject({
  estimate: z.string(),
  limit: z.number(),
  /** A class begins here, or the reader asked; a limit may be both. */
  class: z.string().nullable(),
  asked: z.boolean(),
  /** What hangs on it, where the reader said so. */
  about: z.string().optional(),
  /** Chance that the true value is at or above the limit: by sampling alone, and with the findings put right. */
  byChance: z.number().nullable(),
  repaired: z.number().nullable(),
  /** Error of `repaired` by the number of draws alone (one standard deviation); 0 where nothing was drawn. */
  simulationError: z.number(),
  /** 'can-be-said': 95 in 100 or more on one side, both ways. 'unknown' where no chance can be had. */
  state: z.enum(["can-be-said", "open-measuring", "open-sample", "unknown"]),
  /** The side it lies on, or leans to. */
  side: z.enum(["above", "below"]),
  /** Of a claim left open by the sample: whether the findings move the chance by more than 10 in 100 as well. */
  measuringToo: z.boolean(),
  /** The repair that matters most to it; null where none matters. */
  repair: z.string().nullable(),
  /** How many cases more or fewer would put the estimate on the other side, where these are few. */
  children: z.number().nullable(),
});
export type Claim = z.infer<typeof claimSchema>;

/** A finding put right, alone. */
export const repairResultSchema = z.strictObject({
  id: z.string(),
  label: messageSchema,
  checks: z.array(z.string()),
  /** Public label of the one team that it is about. */
  team: z.string().nullable(),
  /** What was found out about it: an offset with its standard error. */
  found: messageSchema.optional(),
  /** Chance that there is anything to put right at all, where that is drawn too. */
  chance: z.number().nullable(),
  /** Why it is not told of, or not part of the draws. */
  reason: messageSchema.optional(),
  outcomes: z.array(
    z.strictObject({
      estimate: z.string(),
      of: groupIdSchema,
      /** Mean of its draws less the published estimate, and in standard errors of the published one. */
      shift: z.number(),
      shiftInErrors: z.number().nullable(),
    }),
  ),
});
export type RepairResult = z.infer<typeof repairResultSchema>;

/** What is known of a finding that nothing in the data could put right. */
const withoutRepairSchema = z.strictObject({ check: z.string(), reason: messageSchema });

/** Another choice of the analysis: listed, and part of no chance. */
const choiceSchema = z.strictObject({
  estimate: z.string(),
  of: groupIdSchema,
  scenario: z.string(),
  label: messageSchema,
  value: z.number(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  shift: z.number(),
});

/** A part of the survey without which an estimate moves further than parts of its size do by chance. */
const influenceSchema = z.strictObject({
  estimate: z.string(),
  scenario: z.string(),
  by: z.enum(["team", "day", "cluster"]),
  label: messageSchema,
  of: groupIdSchema,
  shift: z.number(),
  /** shift / (SE sqrt(f / (1 - f))), f the part's share of the weights. */
  u: z.number(),
  /** What the largest of so many parts passes in 5 of 100 surveys by chance alone. */
  limit: z.number(),
});

/** What could be done about claims left open, and what it is worth beforehand. */
const settlingSchema = z.strictObject({
  estimate: z.string(),
  limit: z.number(),
  acts: z.array(
    z.strictObject({
      id: z.string(),
      label: messageSchema,
      effort: messageSchema,
      /** Chance that naming the likelier side is right: now, and on average once the act is done. */
      before: z.number(),
      after: z.number(),
    }),
  ),
});
export type Settling = z.infer<typeof settlingSchema>;

export const consequenceSchema = z.strictObject({
  /** How many joint draws were made of the findings put right; 0 where there was nothing to put right. */
  draws: z.number(),
  answers: z.array(answerSchema),
  claims: z.array(claimSchema),
  /** Of each main estimate what to quote, what can be said, what is left open and by what. */
  sentences: z.array(z.strictObject({ estimate: z.string(), message: messageSchema })),
  repairs: z.array(repairResultSchema),
  withoutRepair: z.array(withoutRepairSchema),
  choices: z.array(choiceSchema),
  influence: z.array(influenceSchema),
  settling: z.array(settlingSchema),
  tippingPoints: z.array(tippingPointSchema),
  scenarios: z.array(scenarioResultSchema),
  heading: messageSchema,
  paragraphs: z.array(messageSchema),
  method: z.array(messageSchema),
  charts: z.array(chartSchema),
  tables: z.array(tableSchema),
  sources: z.array(z.string()),
});
export type Consequence = z.infer<typeof consequenceSchema>;

export const sourceSchema = z.strictObject({
  id: z.string(),
  /** Full reference. */
  reference: z.string(),
  /** 'confirmed' read in the source; 'partly' gist seen; 'memory' not seen by the authors; 'practice' common practice, no source; 'computed' derived here. */
  status: z.enum(["confirmed", "partly", "memory", "practice", "computed"]),
});
export type Source = z.infer<typeof sourceSchema>;

/** The settings of the survey, defaults filled in; what each means stands with `SurveySettings`. */
export const settingsSchema = z.strictObject({
  title: z.string(),
  name: z.string(),
  population: z.string(),
  language: z.string(),
  invented: z.boolean(),
  /** Column name in the file for each role in use. */
  columns: z.record(z.string(), z.union([z.string(), z.array(z.string()).readonly()])),
  /** Completed months, both inclusive. */
  ageRange: z.strictObject({ from: z.number(), to: z.number() }),
  ageInMonths: z.enum(["completed", "exact"]),
  exclusions: z.strictObject({ default: z.enum(["fixed", "around-mean"]), widthAroundMean: z.number() }),
  positionRule: z.enum(["age", "height"]),
  expectations: z.strictObject({
    boysPerGirl: z.number(),
    underFiveMortality: z.number(),
    growthOfBirths: z.number(),
  }),
  clustersInPopulation: z.record(z.string(), z.number()).nullable(),
  childrenInPopulation: z.record(z.string(), z.number()).optional(),
  /** Limits that the reader's decisions hang on; absent where none is given. */
  decisions: z.array(decisionSchema).readonly().optional(),
  childrenPerCluster: z.record(z.string(), z.number()).optional(),
  sampling: z
    .strictObject({
      drawn: z.enum(["clusters", "children", "everyone"]).optional(),
      chances: z.enum(["equal", "unequal"]).optional(),
    })
    .optional(),
  seed: z.number(),
});

const dayOrNull = z.iso.date().nullable();
const comparedCell = estimateCellSchema.omit({ classification: true });

/**
 * All that a comparison needs of a survey, and the only section of the file it reads beside format and version: hundreds of
 * surveys are compared, and the rest of each file is let go before the next is read.
 */
export const comparableSchema = z.strictObject({
  survey: z.strictObject({
    name: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/),
    title: z.string(),
    population: z.string(),
    firstDay: dayOrNull,
    lastDay: dayOrNull,
    invented: z.boolean(),
  }),
  /** Of the data, by which the same survey is known again. */
  dataSha256: z.string().regex(/^[0-9a-f]{64}$/),
  /** What must be the same for two surveys to be compared. */
  definition: z.strictObject({
    /** Completed months. */
    ageFrom: z.number(),
    ageTo: z.number(),
    /** 'fixed' or 'around-mean': the rule of the published estimates. */
    exclusionRule: z.string(),
    widthAroundMean: z.number(),
    /** How the measuring position is decided: 'age' or 'height'. */
    positionRule: z.string(),
    weighted: z.boolean(),
    finitePopulationCorrection: z.boolean(),
    /** What the file does not show of the design; absent in results made before it was looked at. */
    designUnknown: z.array(designGapSchema).optional(),
  }),
  children: z.number(),
  clusters: z.number().nullable(),
  strata: z.number(),
  checks: z.array(
    z.strictObject({
      ...checkResultSchema.pick({ id: true, reading: true, reason: true, quantities: true, rowsToCheck: true }).shape,
      /** Quantities: those of teams that are followed from survey to survey. */
      groups: z.array(groupReadingSchema.omit({ adjustedProbability: true })),
    }),
  ),
  estimates: z.array(
    z.strictObject({
      ...estimateResultSchema.pick({ id: true, family: true, kind: true, reason: true }).shape,
      overall: comparedCell.nullable(),
      byExclusion: z.array(z.strictObject({ rule: z.string(), cell: comparedCell })),
    }),
  ),
  scenarios: z.array(
    z.strictObject({
      ...scenarioResultSchema.pick({ id: true, group: true, label: true, kind: true, reason: true }).shape,
      outcomes: z.array(scenarioResultSchema.shape.outcomes.element.omit({ shift: true, class: true, moves: true })),
    }),
  ),
});
export type Comparable = z.infer<typeof comparableSchema>;

/** Everything of results.json by its kind alone; `resultsSchema` looks at the whole as well. */
export const resultsParts = z.strictObject({
  format: z.literal("tareline-results"),
  version: z.literal(3),
  tool: z.strictObject({ name: z.literal("Tareline"), version: z.string() }),
  /** ISO day the report carries: --date, SOURCE_DATE_EPOCH or the last interview day; null when there is none of these. */
  madeOn: z.string().nullable(),
  survey: z.strictObject({
    name: z.string(),
    title: z.string(),
    population: z.string(),
    language: z.string(),
    firstDay: z.string().nullable(),
    lastDay: z.string().nullable(),
    invented: z.boolean(),
  }),
  input: z.strictObject({
    file: z.string(),
    bytes: z.number(),
    sha256: z.string(),
    encoding: z.string(),
    /** The sign between columns; 'none' where the file keeps them apart by other means. */
    delimiter: z.string(),
    /** What the text came in; absent for a plain text file. */
    container: z
      .strictObject({
        kind: z.enum(["gzip", "zip", "folder", "xlsx", "parquet"]),
        /** The sheet or table with one row a child. */
        table: z.string().optional(),
        /** Row of the sheet that holds the column names. */
        headerRow: z.number().optional(),
        /** Tables joined to it, the nearest first. */
        joined: z.array(z.string()).readonly().optional(),
      })
      .optional(),
    settingsSha256: z.string().nullable(),
    /** The list of clusters that was read beside the data; absent where there is none. */
    clusterList: z.strictObject({ file: z.string(), sha256: z.string() }).optional(),
    rowsRead: z.number(),
    rowsUsed: z.number(),
    leftOut: z.array(z.strictObject({ reason: z.string(), count: z.number() })),
  }),
  settings: settingsSchema,
  notes: z.array(messageSchema),
  design: z.strictObject({
    clusters: z.number().nullable(),
    strata: z.number(),
    weighted: z.boolean(),
    finitePopulationCorrection: z.boolean(),
    degreesOfFreedom: z.number().nullable(),
    singleClusterStrata: z.number(),
    teams: z.number().nullable(),
    days: z.number().nullable(),
    /** What the file does not show of the design, each with the sentence that stands beside the figures; absent in results made before it was looked at. */
    unknown: z.array(z.strictObject({ id: designGapSchema, message: messageSchema })).optional(),
  }),
  children: z.strictObject({
    total: z.number(),
    boys: z.number(),
    girls: z.number(),
    sexUnknown: z.number(),
    ageUnknown: z.number(),
    ageFromMonths: z.number(),
    oedema: z.number().nullable(),
    scores: z.array(
      z.strictObject({
        index: z.string(),
        computed: z.number(),
        outsideFixed: z.number(),
        outsideAroundMean: z.number(),
        centre: z.number().nullable(),
        /** Fixed limits and the limits around the mean, in z. */
        fixedLimits: z.strictObject({ low: z.number(), high: z.number() }),
        aroundMeanLimits: z.strictObject({ low: z.number(), high: z.number() }).nullable(),
        missing: z.array(z.strictObject({ reason: z.string(), count: z.number() })),
      }),
    ),
  }),
  /** Every group of children that any number below speaks of. */
  groups: z.array(registeredGroupSchema),
  checks: z.array(checkResultSchema),
  estimates: z.array(estimateResultSchema),
  /** How far each finding could move the prevalences; absent when it was not computed. */
  consequence: consequenceSchema.optional(),
  /** What matters, in order: made by interpret/ from the results alone. */
  story: z.strictObject({
    /** The one sentence of the first page. */
    sentence: messageSchema,
    paragraphs: z.array(messageSchema),
    /** Checks that matter most, first to last. */
    findings: z.array(z.strictObject({ check: z.string(), message: messageSchema })),
    next: z.array(messageSchema),
    cautions: z.array(messageSchema),
    /** Heading sentence of each report section, keyed by section id. */
    headings: z.record(z.string(), messageSchema),
  }),
  sources: z.array(sourceSchema),
  /** What `compare` reads. */
  comparable: comparableSchema,
});

export const resultsSchema = resultsParts.superRefine((results, context) => {
  // Two of one name would be written to one file, and drawn at one anchor.
  const tables = [...results.checks, results.consequence].flatMap((part) => part?.tables ?? []);
  const doubled = (ids: readonly string[]): boolean => new Set(ids).size < ids.length;
  const twice = (path: string): void => context.addIssue({ code: "custom", path: [path], message: "one name twice" });
  if (doubled(results.checks.map(({ id }) => id))) twice("checks");
  if (doubled(results.estimates.map(({ id }) => id))) twice("estimates");
  if (doubled(tables.map(({ id }) => id))) twice("tables");
});
export type Results = z.infer<typeof resultsSchema>;
