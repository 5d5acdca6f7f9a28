import type { Consequence, Decision } from "../results/schema.js";
import { claimsOf } from "./claims/claims.js";
import { tablesOf } from "./consequence-tables.js";
import { wordsOf } from "./present.js";

/**
 * The same results held against other limits: claims, their sentences and tables are made anew from the draws that the results
 * hold. What would settle a new limit, and which shared error would undo it, needs the data and is left out for it.
 */
export function askedAgain(consequence: Consequence, decisions: readonly Decision[]): Consequence {
  const claims = claimsOf(consequence.answers, consequence.repairs, decisions);
  const parts = { ...consequence, claims };
  const told = { ...parts, ...wordsOf(parts, decisions) };
  return { ...told, tables: tablesOf(told) };
}
