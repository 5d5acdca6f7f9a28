import { z } from "zod";
import { dateOrders } from "./roles.js";

const text = z.string().min(1);
/** A code as YAML may give it: 1, m, "01" or true. */
const code = z.union([z.string(), z.number(), z.boolean()]);
const codes = z.union([code, z.array(code)]);
const missing = codes.optional();

/** A role is given as the column's name alone, or as a mapping that says more about it. */
function role<Extra extends z.ZodRawShape>(extra: Extra) {
  return z.union([text, z.strictObject({ column: text, missing, ...extra })]).optional();
}

function coding<Names extends z.ZodRawShape>(names: Names) {
  return role({ codes: z.strictObject(names).optional() });
}

const decimal = z.enum(["point", "comma"]).optional();
const label = role({});
const date = role({ "date-order": z.enum(dateOrders).optional() });

const columns = z.strictObject({
  cluster: label,
  stratum: label,
  "sampling-weight": role({ decimal }),
  area: label,
  household: label,
  child: label,
  team: label,
  "interview-date": date,
  sex: coding({ male: codes.optional(), female: codes.optional() }),
  "birth-date": date,
  "age-months": role({ decimal }),
  "age-known-how": coding({ documented: codes.optional(), recalled: codes.optional() }),
  weight: role({ unit: z.enum(["kg", "g"]).optional(), decimal }),
  height: role({ unit: z.enum(["cm", "mm", "m"]).optional(), decimal }),
  position: coding({ lying: codes.optional(), standing: codes.optional() }),
  "arm-circumference": role({ unit: z.enum(["mm", "cm"]).optional(), decimal }),
  "head-circumference": role({ unit: z.enum(["cm", "mm"]).optional(), decimal }),
  oedema: coding({ present: codes.optional(), absent: codes.optional() }),
  clothing: label,
});

const dataFile = z.union([text, z.strictObject({ file: text, delimiter: z.enum([",", ";", "\t", "|"]).optional() })]);
/** The growth standards run to 60 completed months; a survey of under-fives ends at 59. */
const month = z.int().min(0).max(59);
const clusterCount = z.int().min(1);

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
  "clusters-in-population": z.union([clusterCount, z.record(z.string(), clusterCount)]).optional(),
  "missing-codes": codes.optional(),
  seed: z.int().min(0).max(4294967295).optional(),
});
export type SurveyFileValues = z.infer<typeof surveyFileSchema>;

/** The JSON Schema (draft 2020-12) of survey.yaml, for editors. */
export function surveyFileJsonSchema(): Record<string, unknown> {
  return z.toJSONSchema(surveyFileSchema, { io: "input" }) as Record<string, unknown>;
}
