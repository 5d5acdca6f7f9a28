import { nowhere, type RoleSpec } from "./roles.js";

/** The columns that a role is read from. */
export function columnsOf(spec: RoleSpec): string[] {
  if (spec.options !== undefined) return Object.values(spec.options).flat();
  return spec.otherwise === undefined ? [spec.column] : [spec.column, spec.otherwise];
}

/** The same, with the column that tells how they are to be read. */
export function allColumnsOf(spec: RoleSpec): string[] {
  const { within } = spec;
  return within === undefined || within === nowhere ? columnsOf(spec) : [...columnsOf(spec), within];
}
