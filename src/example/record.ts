/** How a visit ended. */
export type Outcome = "measured" | "refused" | "away";

/** How a child's age was learned; the last is an age without a date. */
export type AgeKnownBy = "health card" | "birth certificate" | "calendar of events" | "not known";

/** What a team wrote down about one child. NaN where a number was not written. */
export interface FieldRecord {
  /** Index of the child among the survey's true children; a child entered twice has two records. */
  readonly child: number;
  /** Survey day, 0 to 11. */
  readonly day: number;
  readonly team: string;
  readonly district: string;
  readonly cluster: number;
  readonly clusterKind: "village" | "town";
  readonly house: number;
  readonly line: number;
  readonly outcome: Outcome;
  /** 0 not written, 1 boy, 2 girl. */
  readonly sex: 0 | 1 | 2;
  readonly ageKnownBy: AgeKnownBy;
  /** Days since 1970-01-01. */
  readonly birthDay: number;
  /** Completed months, written only where there is no birth date. */
  readonly ageMonths: number;
  /** Kilograms, as the scale shows it. */
  readonly weight: number;
  /** Centimetres, as read off the board. */
  readonly height: number;
  /** 0 not written, 1 lying, 2 standing. */
  readonly position: 0 | 1 | 2;
  /** Millimetres, as read off the tape. */
  readonly arm: number;
  /** 0 absent, 1 present, 2 not written. */
  readonly oedema: 0 | 1 | 2;
  readonly samplingWeight: number;
}
