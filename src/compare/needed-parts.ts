import { z } from "zod";
import { estimateCellSchema, messageSchema, quantitySchema, readingSchema } from "../results/schema.js";

/** Of an estimate's cell everything but its class: the same scheme's limits stand in every cell. */
const neededCell = z.object(estimateCellSchema.omit({ classification: true }).shape);
const dayOrNull = z.iso.date().nullable();
/** Only the parts a comparison needs; everything else in the file is passed over unread. */
export const neededSchema = z.object({
  tool: z.object({ version: z.string() }),
  survey: z.object({
    name: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/),
    title: z.string(),
    population: z.string(),
    firstDay: dayOrNull,
    lastDay: dayOrNull,
    invented: z.boolean(),
  }),
  input: z.object({ sha256: z.string().regex(/^[0-9a-f]{64}$/) }),
  settings: z.object({
    ageRange: z.object({ from: z.number(), to: z.number() }),
    exclusions: z.object({ default: z.string(), widthAroundMean: z.number() }),
    positionRule: z.string(),
  }),
  design: z.object({
    clusters: z.number().nullable(),
    strata: z.number(),
    weighted: z.boolean(),
    finitePopulationCorrection: z.boolean(),
  }),
  children: z.object({ total: z.number() }),
  checks: z.array(
    z.object({
      id: z.string(),
      reading: readingSchema,
      reason: messageSchema.optional(),
      quantities: z.array(quantitySchema),
      rowsToCheck: z.number(),
      groups: z.array(
        z.object({
          by: z.string(),
          label: z.string(),
          n: z.number(),
          reading: readingSchema,
          quantities: z.array(quantitySchema),
        }),
      ),
    }),
  ),
  estimates: z.array(
    z.object({
      id: z.string(),
      family: z.string(),
      kind: z.enum(["proportion", "mean"]),
      reason: messageSchema.optional(),
      overall: neededCell.nullable(),
      byExclusion: z.array(z.object({ rule: z.string(), cell: neededCell })),
    }),
  ),
  consequence: z
    .object({
      scenarios: z.array(
        z.object({
          id: z.string(),
          group: z.string(),
          label: messageSchema,
          kind: z.enum(["estimate", "bound", "sensitivity"]),
          reason: messageSchema.optional(),
          outcomes: z.array(
            z.object({
              estimate: z.string(),
              value: z.number(),
              low: z.number().nullable(),
              high: z.number().nullable(),
              standardError: z.number().nullable(),
              degreesOfFreedom: z.number().nullable(),
            }),
          ),
        }),
      ),
    })
    .optional(),
});
export type Needed = z.infer<typeof neededSchema>;
