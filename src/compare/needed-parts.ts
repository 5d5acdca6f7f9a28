import { z } from "zod";
import {
  checkResultSchema,
  estimateCellSchema,
  estimateResultSchema,
  groupReadingSchema,
  resultsSchema,
  scenarioResultSchema,
} from "../results/schema.js";

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
  design: z.object(
    resultsSchema.shape.design.pick({ clusters: true, strata: true, weighted: true, finitePopulationCorrection: true })
      .shape,
  ),
  children: z.object(resultsSchema.shape.children.pick({ total: true }).shape),
  checks: z.array(
    z.object({
      ...checkResultSchema.pick({ id: true, reading: true, reason: true, quantities: true, rowsToCheck: true }).shape,
      groups: z.array(z.object(groupReadingSchema.omit({ adjustedProbability: true }).shape)),
    }),
  ),
  estimates: z.array(
    z.object({
      ...estimateResultSchema.pick({ id: true, family: true, kind: true, reason: true }).shape,
      overall: neededCell.nullable(),
      byExclusion: z.array(z.object({ rule: z.string(), cell: neededCell })),
    }),
  ),
  consequence: z
    .object({
      scenarios: z.array(
        z.object({
          ...scenarioResultSchema.pick({ id: true, group: true, label: true, kind: true, reason: true }).shape,
          outcomes: z.array(
            z.object(scenarioResultSchema.shape.outcomes.element.omit({ shift: true, class: true, moves: true }).shape),
          ),
        }),
      ),
    })
    .optional(),
});
export type Needed = z.infer<typeof neededSchema>;
