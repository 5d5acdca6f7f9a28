import type { TextTable } from "../read/table.js";
import type { ProblemKind } from "../settings/problems.js";
import { dispensableRoles, type Role } from "../settings/roles.js";
import { isThere, missingNeeds } from "./choose-columns.js";
import { type Guesses, hasAge, isFilled, type RoleQuestion } from "./guess.js";

/** Roles that the draft has to ask for although no column suggests itself. */
export function rolesWanted(guesses: Guesses, table: TextTable): Set<Role> {
  const named = new Set(guesses.questions.filter(({ from }) => from === "names").map(({ role }) => role));
  const needs = missingNeeds((role) => isThere(role, guesses.guesses) || named.has(role), table, []);
  const roleOf: Partial<Record<ProblemKind, readonly Role[]>> = {
    "role-missing": ["sex"],
    "measure-missing": ["weight", "height"],
    "age-missing": ["birth-date"],
  };
  return new Set([...needs.flatMap((problem) => roleOf[problem.kind] ?? []), ...ageWanted(guesses)]);
}

/**
 * Roles to ask for where no age is known but a column may hold one: without the question a report would come out that
 * lacks every figure by age, although the data have it.
 */
function ageWanted({ guesses, questions }: Guesses): Role[] {
  if (hasAge(guesses)) return [];
  const suggested = questions.filter(({ from }) => from !== "names").map(({ role }) => role);
  const dates = isFilled("birth-date", guesses) ? ["interview-date"] : ["birth-date"];
  return suggested.filter((role) => role === "age-months" || dates.includes(role));
}

/** True where no report is made before the question is answered. */
export function mustBeAnswered({ role, from }: RoleQuestion, wanted: ReadonlySet<Role>): boolean {
  return wanted.has(role) || (from === "names" && !dispensableRoles.has(role));
}
