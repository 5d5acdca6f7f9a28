/** What a column can be. Only columns with a role, or named as a subgroup, are ever read. */
export const roles = [
  "cluster",
  "stratum",
  "sampling-weight",
  "area",
  "household",
  "child",
  "team",
  "interview-date",
  "entry-time",
  "sex",
  "birth-date",
  "age-months",
  "age-known-how",
  "weight",
  "height",
  "position",
  "arm-circumference",
  "head-circumference",
  "oedema",
  "clothing",
] as const;
export type Role = (typeof roles)[number];

/** Roles that name a measurement. */
export const measureRoles = ["weight", "height", "arm-circumference", "head-circumference"] as const;
export type MeasureRole = (typeof measureRoles)[number];

/** Roles that name a date. */
export const dateRoles = ["interview-date", "birth-date", "entry-time"] as const;
export type DateRole = (typeof dateRoles)[number];

/** Roles whose cells are read through a coding. */
export const codingRoles = ["sex", "position", "oedema", "age-known-how"] as const;
export type CodingRole = (typeof codingRoles)[number];

/**
 * Roles that a report can do without: where it is unclear which column they are, they are left out with a note. For all
 * others, leaving the column out would change the estimates, so the user is asked.
 */
export const dispensableRoles: ReadonlySet<Role> = new Set<Role>([
  "area",
  "household",
  "child",
  "entry-time",
  "age-known-how",
  "clothing",
]);

/** Roles whose values may be names of people or places: none is shown that is not a plain code. */
export const namingRoles: ReadonlySet<Role> = new Set<Role>(["cluster", "household", "child", "team"]);

/** Roles that are recorded in the settings but that no figure uses yet. */
export const unusedRoles = ["child", "clothing"] as const satisfies readonly Role[];

/** Units of an age written as a number. */
export const ageUnits = ["months", "days"] as const;
export type AgeUnit = (typeof ageUnits)[number];

export const dateOrders = ["day-month-year", "month-day-year", "year-month-day"] as const;
export type DateOrder = (typeof dateOrders)[number];

/** What settings write for 'within' where one label is one cluster wherever it stands. */
export const nowhere = "none";

/** How one role's column is to be read. What is left out is settled from the whole column. */
export interface RoleSpec {
  /** The column's name in the file. */
  readonly column: string;
  readonly unit?: string;
  /** 0/1 columns, one an answer, that a question with several answers was exported as, by meaning; `column` is then its name. */
  readonly options?: Readonly<Record<string, readonly string[]>>;
  /** Texts of the file for each meaning. */
  readonly codes?: Readonly<Record<string, readonly string[]>>;
  /** Texts that stand for 'not measured', beside the usual ones. */
  readonly missing: readonly string[];
  readonly dateOrder?: DateOrder;
  readonly decimal?: "point" | "comma";
  /** A second column, read where the first is empty. */
  readonly otherwise?: string;
  /** Of clusters: the column in which their labels start anew, or 'none' where one label is one cluster wherever it stands. */
  readonly within?: string;
}
