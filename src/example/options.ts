import type { Fieldwork } from "./place.js";

/** One team writes many of its heights as whole or half centimetres. */
export interface HeightRounding {
  /** Team code, 'T1' to 'T6'. */
  readonly team: string;
  /** Share of the team's heights that are rounded, 0 to 1. */
  readonly share: number;
}

/** In one district birth dates are not asked for; ages are given in months and pulled to whole and half years. */
export interface AgeHeaping {
  readonly district: string;
  /** Share of the district's children whose age is a pulled one, 0 to 1. */
  readonly share: number;
}

/** One team's scale reads heavier (lighter where negative) by the same step every survey day; on the first day it is right. */
export interface ScaleDrift {
  readonly team: string;
  readonly kilogramsPerDay: number;
}

/** The same child entered twice: a row that stands in the file a second time, a few rows later. */
export interface DuplicateRows {
  readonly count: number;
}

/** Faults to plant, each on its own; what is left out is not planted. */
export interface ExampleFaults {
  readonly heightRounding?: HeightRounding;
  readonly ageHeaping?: AgeHeaping;
  readonly scaleDrift?: ScaleDrift;
  readonly duplicateRows?: DuplicateRows;
}

export interface ExampleOptions {
  /** The same seed and options give the same survey, byte for byte. */
  readonly seed: number;
  /** About how many children; 900 where not given. */
  readonly size?: number;
  /** How many clusters, at least 6; 36 where not given. */
  readonly clusters?: number;
  /** Where, when and by whom; the sample survey's where not given. */
  readonly fieldwork?: Fieldwork;
  readonly faults?: ExampleFaults;
}
