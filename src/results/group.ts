import { z } from "zod";

/**
 * The group of children, with its denominator, that a published number speaks of. Only `src/disclosure/book.ts` makes one for
 * children, so that a number whose group nobody has stated does not compile.
 */
export const groupIdSchema = z.string().brand<"group">();
export type GroupId = z.infer<typeof groupIdSchema>;

const made = (id: string): GroupId => groupIdSchema.parse(id);

/** Clusters, households or forms planned, or a reference value: no child is told of. */
export const noChildren = made("no-children");

/** Made from published results alone, in a comparison: it tells nothing that they do not. */
export const fromResults = made("from-results");

/** A group that is kept back: only its number of children stands beside it. */
export const keptBack = made("kept-back");

/** Results of an earlier version, which did not state their groups. */
export const notStated = made("not-stated");

/** A group of the register in results.json. */
export const registeredGroupSchema = z.strictObject({
  id: groupIdSchema,
  /** What is told of the children: an outcome, an index, the digits of a measure. */
  subject: z.string(),
  /** The split that it is a part of; absent for all children of the denominator. */
  by: z.string().optional(),
  /** Its public label there. */
  part: z.string().optional(),
  /** What sets it apart from the denominator otherwise: another rule of exclusion, a part left out. */
  note: z.string().optional(),
  /** Children in it. */
  n: z.number(),
});
export type RegisteredGroup = z.infer<typeof registeredGroupSchema>;
