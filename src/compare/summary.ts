import type { EstimateCell, Message, Quantity, Reading, ScenarioResult } from "../results/schema.js";

/**
 * What comparing needs of one survey, taken from its results.json. Everything else of that file is let go at once, so
 * that hundreds of surveys fit in memory.
 */
export interface SurveySummary {
  /** Unique in this comparison, plain letters, digits and hyphens: the survey's name, numbered where two share one. */
  readonly key: string;
  /** The results file as it was named, without the folders of the machine above the comparison's own. */
  readonly file: string;
  /** Hexadecimal SHA-256 of the results file. */
  readonly sha256: string;
  readonly title: string;
  readonly population: string;
  readonly invented: boolean;
  /** Where it was: surveys of one place are rounds of each other. From compare.yaml, else the population's text. */
  readonly place: string;
  /** Which round: from compare.yaml, else the year and month of its first day; null where neither is known. */
  readonly round: string | null;
  /** Heading under which places are gathered (a province); null where none is given. */
  readonly group: string | null;
  /** Children under five in the population, from compare.yaml; null where not given. */
  readonly populationSize: number | null;
  /** True where compare.yaml says that it went back to the clusters of an earlier round. */
  readonly clustersRevisited: boolean;
  /** ISO days. */
  readonly firstDay: string | null;
  readonly lastDay: string | null;
  readonly toolVersion: string;
  /** Version of the results format in the file, before it was brought up to date. */
  readonly formatVersion: number;
  readonly definition: SurveyDefinition;
  readonly children: number;
  readonly clusters: number | null;
  readonly strata: number;
  readonly estimates: ReadonlyMap<string, SummaryEstimate>;
  readonly checks: ReadonlyMap<string, SummaryCheck>;
  readonly scenarios: readonly SummaryScenario[];
}

/** What must be the same for two surveys to be compared. */
export interface SurveyDefinition {
  /** Completed months. */
  readonly ageFrom: number;
  readonly ageTo: number;
  /** 'fixed', 'around-mean', 'none': the rule of the published estimates. */
  readonly exclusionRule: string;
  readonly widthAroundMean: number;
  /** How the measuring position is decided: 'age' or 'length'. */
  readonly positionRule: string;
  readonly weighted: boolean;
  readonly finitePopulationCorrection: boolean;
  /** What the file does not show of the sampling design; nothing in results made before it was looked at. */
  readonly designUnknown: readonly string[];
}

export interface SummaryEstimate {
  readonly id: string;
  readonly family: string;
  readonly kind: "proportion" | "mean";
  /** Why there is none. */
  readonly reason: Message | null;
  /** Under the survey's own rule. */
  readonly overall: EstimateCell | null;
  /** By exclusion rule. */
  readonly byExclusion: ReadonlyMap<string, EstimateCell>;
}

export interface SummaryCheck {
  readonly id: string;
  readonly reading: Reading;
  readonly reason: Message | null;
  readonly quantities: readonly Quantity[];
  readonly rowsToCheck: number;
  /** Groups the check read one by one. */
  readonly groups: readonly {
    /** 'team' and others. */
    readonly by: string;
    readonly label: string;
    readonly n: number;
    readonly reading: Reading;
    /** Those of teams that are followed from survey to survey; the others are let go. */
    readonly quantities: readonly Quantity[];
  }[];
}

export interface SummaryScenario {
  /** '<file>/<variant>'. */
  readonly id: string;
  readonly group: string;
  readonly label: Message;
  readonly kind: ScenarioResult["kind"];
  /** Why it could not be computed; then there are no outcomes. */
  readonly reason: Message | null;
  /** By estimate. */
  readonly outcomes: ReadonlyMap<string, SummaryOutcome>;
}

export interface SummaryOutcome {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
  /** Null where none can be had. */
  readonly standardError: number | null;
  readonly degreesOfFreedom: number | null;
}
