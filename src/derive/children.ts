import type { SamplePlan } from "../columns/sample-plan.js";
import type { CodedColumn, MeasureColumn } from "../columns/survey.js";

/** The six z-score indices. */
export const indexIds = [
  "weight-for-height",
  "height-for-age",
  "weight-for-age",
  "bmi-for-age",
  "arm-for-age",
  "head-for-age",
] as const;
export type IndexId = (typeof indexIds)[number];

export type ExclusionRule = "none" | "fixed" | "around-mean";

/** One index's z-scores. NaN where it could not be computed (`why` says why). */
export interface ZColumn {
  readonly z: Float64Array;
  /** 0 computed; otherwise a code of `noScoreReasons`. */
  readonly why: Uint8Array;
  /** 1 where the fixed WHO limits set the value aside. */
  readonly outsideFixed: Uint8Array;
  /** 1 where the limits around the survey's mean set it aside (these are applied on top of the fixed limits). */
  readonly outsideAroundMean: Uint8Array;
  /** The mean the second rule was centred on: mean of the values inside the fixed limits; NaN when there are none. */
  readonly centre: number;
}

/** Why a z-score could not be computed, by code: message `no-score.<reason>`. */
export const noScoreReasons = [
  "computed",
  "sex-missing",
  "age-missing",
  "measure-missing",
  "outside-table",
  "oedema",
  "impossible",
] as const;

/**
 * The columns every check and estimate works on: the children of the survey's age range (and those of unknown age),
 * in the order of the file. All arrays have `count` entries. Plain data, so that a scenario can copy it with one
 * column changed and derive again.
 */
export interface Children {
  readonly count: number;
  /** Row as a spreadsheet shows it. */
  readonly sheetRow: Uint32Array;
  /** 0 missing, 1 male, 2 female. */
  readonly sex: Uint8Array;
  readonly interviewDay: Float64Array | null;
  /** When the form of each child was opened or sent: days since 1970-01-01 with the time of day; NaN missing. Null or absent without the role. */
  readonly entryTime?: Float64Array | null;
  readonly birthDay: Float64Array | null;
  /** Age in days, whole where it comes from two dates; NaN unknown. */
  readonly ageDays: Float64Array;
  /** Exact age in months, days / 30.4375; NaN unknown. */
  readonly ageMonths: Float64Array;
  /** 0 unknown, 1 from two dates, 2 from an age in months. */
  readonly ageSource: Uint8Array;
  /** Days of age that no child can have, as the dates or the age in the file would have it, where the age is therefore unknown; NaN elsewhere. */
  readonly ageSetAside?: Float64Array | null;
  readonly ageKnownHow: CodedColumn | null;
  readonly weight: MeasureColumn | null;
  /** Length or height as measured, cm. */
  readonly height: MeasureColumn | null;
  readonly arm: MeasureColumn | null;
  readonly head: MeasureColumn | null;
  /** Position as recorded: 0 not recorded, 1 lying, 2 standing; null when the role is absent. */
  readonly position: Uint8Array | null;
  /** Position the growth standard wants for this child: 1 length (under 731 days), 2 height; 0 age and height both unknown. */
  readonly positionWanted: Uint8Array;
  /** Length or height after the 0.7 cm conversion, cm; NaN missing. */
  readonly standardHeight: Float64Array;
  /** 0 absent, 1 present, 2 not recorded; null when the role is absent (then nobody counts as having oedema). */
  readonly oedema: Uint8Array | null;
  readonly cluster: CodedColumn | null;
  readonly stratum: CodedColumn | null;
  readonly area: CodedColumn | null;
  readonly team: CodedColumn | null;
  readonly household: CodedColumn | null;
  readonly samplingWeight: Float64Array | null;
  readonly subgroups: readonly CodedColumn[];
  /** The rule under which prevalences are published, and checks look at z-scores; the fixed limits where absent. */
  readonly exclusionRule?: "fixed" | "around-mean";
  /** Clusters and households planned against those in the data; null or absent when no plan is given. */
  readonly plan?: SamplePlan | null;
  readonly indices: Readonly<Record<IndexId, ZColumn>>;
}

/** Rows read that did not become children, counted by reason. */
export interface LeftOut {
  readonly reason: "age-outside" | "age-impossible";
  readonly count: number;
}

export interface Derived {
  readonly children: Children;
  readonly rowsRead: number;
  readonly leftOut: readonly LeftOut[];
}
