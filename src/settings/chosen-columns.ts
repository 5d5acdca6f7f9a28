import type { Note } from "./notes.js";
import type { InputProblem } from "./problems.js";
import { allColumnsOf } from "./role-columns.js";
import type { Role, RoleSpec } from "./roles.js";

/** Which column is read for what. */
export interface ChosenColumns {
  readonly specs: ReadonlyMap<Role, RoleSpec>;
  /** Further columns for subgroups. */
  readonly subgroups: readonly string[];
  readonly problems: readonly InputProblem[];
  readonly notes: readonly Note[];
}

/** Names of the columns that have a role, tell how one is to be read, or make subgroups. */
export function usedNames({ specs, subgroups }: ChosenColumns): string[] {
  return [...[...specs.values()].flatMap(allColumnsOf), ...subgroups];
}
