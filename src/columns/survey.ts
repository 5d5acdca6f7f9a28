import type { SurveySettings } from "../settings/settings.js";
import type { SamplePlan } from "./sample-plan.js";

/** 0 missing, 1 male, 2 female. */
export type SexCode = 0 | 1 | 2;
/** How a child was measured: 0 not recorded, 1 lying (length), 2 standing (height). */
export type PositionCode = 0 | 1 | 2;
/** Bilateral pitting oedema: 0 absent, 1 present, 2 not recorded. */
export type OedemaCode = 0 | 1 | 2;

/** A column of categories. */
export interface CodedColumn {
  /** The column's name in the input file. */
  readonly name: string;
  /** Index into `labels` for every row; -1 where the cell is empty or holds a missing code. */
  readonly codes: Int32Array;
  /** Labels as they stand in the file: may be names of people or places. Internal. */
  readonly labels: readonly string[];
  /**
   * Labels that may be printed. A short code ('T3', '14', 'team 2') is kept; anything else is replaced by a neutral
   * label ('team A'), since staff and places must not be named in a report.
   */
  readonly publicLabels: readonly string[];
  /** True when `publicLabels` replaces names. */
  readonly disguised: boolean;
}

/** A measured column in its standard unit (kg, cm, mm). */
export interface MeasureColumn {
  readonly name: string;
  /** NaN where missing. */
  readonly values: Float64Array;
  /**
   * The smallest step the column was written in, in the standard unit: 0.1 for kilograms with one decimal, 0.01 with
   * two, 1 for whole millimetres. Taken over the whole column (a spreadsheet drops trailing zeros): the finest step
   * that at least one value in a hundred needs.
   */
  readonly step: number;
  /** Cells that were empty or held a missing code. */
  readonly missing: number;
  /**
   * Values outside what is possible, as the file has them, in the standard unit; NaN elsewhere. They count as not measured. Null or
   * absent where there are none.
   */
  readonly setAside?: Float64Array | null;
}

/** A survey after its columns have been understood: typed raw columns, nothing derived yet. All arrays have `rowCount` entries. */
export interface Survey {
  readonly settings: SurveySettings;
  readonly file: string;
  readonly rowCount: number;
  readonly sheetRow: Uint32Array;

  readonly sex: Uint8Array;
  /** Days since 1970-01-01 (UTC); NaN where missing. Null when the role is not in the data. */
  readonly interviewDay: Float64Array | null;
  readonly birthDay: Float64Array | null;
  /**
   * When the form of each row was opened (or sent): days since 1970-01-01 with the time of day as a fraction, as written, whatever
   * its zone; NaN where missing. Null or absent when the role is not in the data.
   */
  readonly entryTime?: Float64Array | null;
  /** Days of birth and ages in months outside what is possible, as the file has them; NaN elsewhere. Null or absent where there are none. */
  readonly ageSetAside?: { readonly birthDay: Float64Array | null; readonly ageMonths: Float64Array | null } | null;
  /** Age in months as the file gives it; null when there is no such column. Used only where no exact age can be had. */
  readonly ageMonths: Float64Array | null;
  /** 'documented', 'recalled' or unknown per row, from the role age-known-how; null when the role is absent. */
  readonly ageKnownHow: CodedColumn | null;

  readonly weight: MeasureColumn | null;
  /** Length or height, cm. */
  readonly height: MeasureColumn | null;
  /** Arm circumference, mm. */
  readonly arm: MeasureColumn | null;
  /** Head circumference, cm. */
  readonly head: MeasureColumn | null;
  readonly position: Uint8Array | null;
  readonly oedema: Uint8Array | null;

  readonly cluster: CodedColumn | null;
  readonly stratum: CodedColumn | null;
  readonly area: CodedColumn | null;
  readonly team: CodedColumn | null;
  readonly household: CodedColumn | null;
  /** Sampling weights; null when every child counts the same. */
  readonly samplingWeight: Float64Array | null;
  /** Any further columns the user named for subgroups. */
  readonly subgroups: readonly CodedColumn[];
  /** Clusters and households planned against those in the data; null or absent when no plan is given. */
  readonly plan?: SamplePlan | null;
  /** Columns without a role that could be a part of the design; none or absent where nothing suggests it. */
  readonly unread?: readonly UnreadColumn[];
}

/** A column that is not used and could be a part of the design that is missing. Entries are in the order of the file, not of the survey. */
export type UnreadColumn = {
  /** Its name where it may be told, else its place in the file. */
  readonly column: string;
  readonly sheetRow: Uint32Array;
} & (
  | { readonly role: "sampling-weight"; readonly values: Float64Array }
  | { readonly role: "cluster" | "stratum"; readonly codes: Int32Array; readonly labels: number }
);
