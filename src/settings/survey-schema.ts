import { z } from "zod";
import { mainEstimateIds } from "../results/main-estimates.js";
import { ageUnits, dateOrders } from "./roles.js";

const text = z.string().min(1);
/** A code as YAML may give it: 1, m, "01" or true. */
const code = z.union([z.string(), z.number(), z.boolean()]);
const codes = z.union([code, z.array(code)]);
const missing = codes.optional();
/** A second column, read where the first is empty. */
const otherwise = text.optional();

/** A role is given as the column's name alone, or as a mapping that says more about it. */
function role<Extra extends z.ZodRawShape>(extra: Extra) {
  return z.union([text, z.strictObject({ column: text, otherwise, missing, ...extra })]).optional();
}

/** A coded role may also be given by the 0/1 columns of its answers. */
function coding<Name extends string>(...meanings: readonly Name[]) {
  const each = <Value extends z.ZodType>(value: Value) =>
    z.strictObject(
      Object.fromEntries(meanings.map((name) => [name, value.optional()])) as Record<Name, z.ZodOptional<Value>>,
    );
  const column = z.strictObject({ column: text, otherwise, missing, codes: each(codes).optional() });
  return z.union([text, column, z.strictObject({ options: each(z.union([text, z.array(text)])), missing })]).optional();
}

const decimal = z.enum(["point", "comma"]).optional();
const label = role({});
const date = role({ "date-order": z.enum(dateOrders).optional() });

const columns = z.strictObject({
  /** 'within' names the column in which the numbers of clusters start anew; 'none' where one number is one cluster. */
  cluster: role({ within: text.optional() }),
  stratum: label,
  "sampling-weight": role({ decimal }),
  area: label,
  household: label,
  child: label,
  team: label,
  "interview-date": date,
  "entry-time": date,
  sex: coding("male", "female"),
  "birth-date": date,
  "age-months": role({ unit: z.enum(ageUnits).optional(), decimal }),
  "age-known-how": coding("documented", "recalled"),
  weight: role({ unit: z.enum(["kg", "g"]).optional(), decimal }),
  height: role({ unit: z.enum(["cm", "mm", "m"]).optional(), decimal }),
  position: coding("lying", "standing"),
  "arm-circumference": role({ unit: z.enum(["mm", "cm"]).optional(), decimal }),
  "head-circumference": role({ unit: z.enum(["cm", "mm"]).optional(), decimal }),
  oedema: coding("present", "absent"),
  clothing: label,
});

/** The growth standards run to 60 completed months; a survey of under-fives ends at 59. */
const month = z.int().min(0).max(59);
const clusterCount = z.int().min(1);
const clusterCounts = z.union([clusterCount, z.record(z.string(), clusterCount)]);
const delimiter = z.enum([",", ";", "\t", "|"]).optional();

/** A join of two tables that cannot be found from the tables themselves: `key` of `table` holds `parent-key` of `parent`. */
const join = z.strictObject({ table: text, key: text, parent: text, "parent-key": text });

/** The data file by its name alone, or with how it is to be read. A workbook's sheet and an archive's table are named alike. */
const dataFile = z.union([
  text,
  z.strictObject({
    file: text,
    delimiter,
    encoding: z.enum(["utf-8", "utf-16le", "utf-16be", "windows-1252", "windows-1256"]).optional(),
    /** The sheet, or table, with one row a child. */
    sheet: text.optional(),
    joins: z.array(join).min(1).optional(),
  }),
]);

/** The list of the clusters drawn, in a file of its own. */
const clusterList = z.strictObject({
  file: text,
  delimiter,
  columns: z.strictObject({
    cluster: text,
    stratum: text.optional(),
    "planned-households": text.optional(),
    "reached-households": text.optional(),
    "households-in-frame": text.optional(),
    replacement: text.optional(),
  }),
});

/** What was planned, for surveys without a list of clusters, or for all its clusters alike. */
const planned = z.strictObject({
  clusters: clusterCounts.optional(),
  "households-per-cluster": clusterCount.optional(),
  /** Whether the households planned are all households or those with children of the survey's ages. */
  households: z.enum(["all", "with-children"]).optional(),
});

/** Whether labels of clusters and teams are printed as they are, or codes in their place. */
const labelsOrCodes = z.enum(["labels", "codes"]).optional();
const privacy = z.strictObject({ clusters: labelsOrCodes, teams: labelsOrCodes, secret: text.optional() });

/** The whole of survey.yaml. Strict at every level, so that a misspelt key is named and not passed over. */
export const surveyFileSchema = z.strictObject({
  title: text.optional(),
  name: text.optional(),
  population: z.string().optional(),
  language: z
    .string()
    .regex(/^[a-z]{2,3}(-[A-Za-z]+)?$/)
    .optional(),
  /** True when the data are made up; the report then says so on every page. */
  invented: z.boolean().optional(),
  data: dataFile,
  columns: columns.optional(),
  subgroups: z.array(text).optional(),
  ages: z.strictObject({ from: month.optional(), to: month.optional() }).optional(),
  "age-in-months": z.enum(["completed", "exact"]).optional(),
  exclusions: z
    .strictObject({
      default: z.enum(["fixed", "around-mean"]).optional(),
      "width-around-mean": z.number().min(1).max(6).optional(),
    })
    .optional(),
  "position-rule": z.enum(["age", "height"]).optional(),
  expectations: z
    .strictObject({
      "boys-per-girl": z.number().min(0.5).max(2).optional(),
      "under-five-mortality": z.number().min(0).max(500).optional(),
      "growth-of-births": z.number().min(-0.2).max(0.2).optional(),
    })
    .optional(),
  "clusters-in-population": clusterCounts.optional(),
  "children-in-population": z.record(z.string(), clusterCount).optional(),
  /** Children of the survey's ages in a cluster of the population, on average. */
  "children-per-cluster": clusterCounts.optional(),
  /** What the columns cannot show of how the sample was drawn. */
  sampling: z
    .strictObject({
      /** 'clusters' of children, single 'children', or 'everyone' in the population. */
      drawn: z.enum(["clusters", "children", "everyone"]).optional(),
      /** Whether every child had the same chance of being drawn, so that no weights are needed. */
      chances: z.enum(["equal", "unequal"]).optional(),
    })
    .optional(),
  clusters: clusterList.optional(),
  planned: planned.optional(),
  /** Limits that a decision hangs on, each a percentage with its sign, and in words what hangs on it. */
  decision: z
    .array(
      z.strictObject({
        estimate: z.enum(mainEstimateIds),
        limit: z.union([text, z.number()]),
        "hangs-on-it": text.optional(),
      }),
    )
    .optional(),
  "missing-codes": codes.optional(),
  privacy: privacy.optional(),
  seed: z.int().min(0).max(4294967295).optional(),
});
export type SurveyFileValues = z.infer<typeof surveyFileSchema>;

/** The JSON Schema (draft 2020-12) of survey.yaml, for editors. */
export function surveyFileJsonSchema(): Record<string, unknown> {
  return z.toJSONSchema(surveyFileSchema, { io: "input" }) as Record<string, unknown>;
}
