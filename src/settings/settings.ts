/**
 * The settings of one survey after survey.yaml (or the draft made from the data) has been read and defaults filled in.
 * Printed in the report's last section and kept in results.json.
 */
export interface SurveySettings {
  readonly title: string;
  /** A short name in file-name form, used for the output folder. */
  readonly name: string;
  /** One line on what population the survey speaks of, in the user's words; empty if not given. */
  readonly population: string;
  readonly language: string;
  /** True when the data are invented (an example, a training): the report says so on its first page. */
  readonly invented: boolean;
  /** Column name in the file for each role in use. */
  readonly columns: Readonly<Record<string, string | readonly string[]>>;
  /** Ages the survey set out to measure, completed months, both inclusive. */
  readonly ageRange: { readonly from: number; readonly to: number };
  /**
   * How ages in months are read where no birth date is known: 'completed' months stand for the middle of the month
   * (m + 0.5), 'exact' months are taken as they are.
   */
  readonly ageInMonths: "completed" | "exact";
  /** Which exclusion rule the printed prevalences use; both are always computed. */
  readonly exclusions: { readonly default: "fixed" | "around-mean"; readonly widthAroundMean: number };
  /** 'age' (under two years lying, then standing) or 'height' (below 87 cm lying): the rule the teams were told to follow. */
  readonly positionRule: "age" | "height";
  readonly expectations: {
    /** Boys per girl expected among children of these ages. */
    readonly boysPerGirl: number;
    /** Deaths before age five per 1,000 births, and yearly growth of births, for the expected age distribution. */
    readonly underFiveMortality: number;
    readonly growthOfBirths: number;
  };
  /** Number of clusters in the whole population per stratum label, for the finite population correction; null if not given. */
  readonly clustersInPopulation: Readonly<Record<string, number>> | null;
  /**
   * Number of children in the whole population per stratum label, from which weights are made where the data have none; absent
   * if not given.
   */
  readonly childrenInPopulation?: Readonly<Record<string, number>>;
  /** Limits that a decision hangs on; absent where none is given. */
  readonly decisions?: readonly {
    readonly estimate: string;
    /** A share, above 0 and below 1. */
    readonly limit: number;
    /** What hangs on it, in the reader's words; empty where not said. */
    readonly about: string;
  }[];
  /**
   * Children of the survey's ages in a cluster of the population, on average, per stratum label ('all' for the whole survey), for
   * the second stage of sampling under a finite population correction; absent if not given.
   */
  readonly childrenPerCluster?: Readonly<Record<string, number>>;
  /** How the sample was drawn, as the survey says itself; absent if it does not. */
  readonly sampling?: {
    readonly drawn?: "clusters" | "children" | "everyone";
    readonly chances?: "equal" | "unequal";
  };
  /** Seed for everything simulated. */
  readonly seed: number;
  /** Anything that was guessed, assumed or left unsaid, as message ids with values, in the order met. */
  readonly notes: readonly {
    readonly id: `input.note.${string}`;
    readonly values: Readonly<Record<string, string | number>>;
  }[];
}
