import type { Children, ExclusionRule } from "../derive/children.js";
import type { PrevalenceEstimate } from "../estimates/estimate.js";
import type { CheckId } from "../results/check-ids.js";
import type { CheckResult, Message } from "../results/schema.js";
import type { SurveySettings } from "../settings/settings.js";
import type { SurveyDesign } from "../stats/design/survey-design.js";
import type { RandomStream } from "../stats/random.js";

/** A prevalence re-estimated: value, its sampling variance and degrees of freedom, and the interval that follows. */
export interface Reestimate {
  readonly estimate: string;
  readonly value: number;
  /** Design-based variance of `value`; NaN where it cannot be had. */
  readonly variance: number;
  readonly degreesOfFreedom: number;
  readonly low: number | null;
  readonly high: number | null;
  /** Children in the denominator. */
  readonly n: number;
  readonly speaks: SpeaksOf;
}

/** The children whom a re-estimate tells of as the file has them. */
export interface SpeaksOf {
  /** 1 for children of the denominator whose data are as in the file: those left out or changed are told of by the difference. */
  readonly members: Uint8Array;
  /** Cases among them, where their number follows from the estimate. */
  readonly isCase: Uint8Array | null;
  /** True where data were drawn at random: only the published estimate can be subtracted from it. */
  readonly atRandom: boolean;
}

/** One of the prevalences that every scenario re-estimates, with what was published for it. */
export interface Headline {
  readonly estimate: PrevalenceEstimate;
  readonly published: Reestimate;
  /** Class of the published estimate; null where no class is published for it. */
  readonly class: string | null;
}

/** Everything a scenario may look at. It changes a copy, never this. */
export interface World {
  readonly children: Children;
  readonly settings: SurveySettings;
  readonly design: SurveyDesign;
  /** The exclusion rule of the published prevalences. */
  readonly rule: ExclusionRule;
  readonly headlines: readonly Headline[];
  /** Results of the quality checks by id: which teams heap, which districts' ages are estimated. */
  readonly checks: ReadonlyMap<string, CheckResult>;
}

/** A scenario that cannot be computed says why. */
interface NotPossible {
  readonly notPossible: Message;
}

/** '<file>/<variant>', and for parts left out the kind of part in place of the file. */
export type ScenarioId =
  | `${ScenarioFileId}/failed`
  | "ages-covered/from-six-months"
  | `ages/${"heaped" | "within-month"}`
  | `digits/${"weight" | "height" | "arm"}`
  | "duplicates/once"
  | `exclusions/${"none" | "fixed" | "around-mean-3" | "around-mean-4"}`
  | `leave-out-${"team" | "day" | "cluster"}/${string}`
  | `missing/${"none-a-case" | "twice-as-often" | "all-cases"}`
  | "position/not-converted"
  | `spread/${"normal" | "extrapolated"}`
  | "together/all"
  | "weights/off";

/** One way the survey could have come out. Its random stream is its own, from its id: adding one never changes another. */
export interface Scenario {
  readonly id: ScenarioId;
  readonly group: ScenarioGroup;
  readonly label: Message;
  /** 'estimate' another honest estimate; 'bound' a best or worst case; 'sensitivity' rests on a contested assumption. */
  readonly kind: "estimate" | "bound" | "sensitivity";
  /** Checks whose finding it follows up. */
  readonly checks: readonly CheckId[];
  readonly note?: Message;
  run(world: World, random: RandomStream): readonly Reestimate[] | NotPossible;
}

export type ScenarioGroup =
  | "exclusions"
  | "influence"
  | "weights"
  | "ages-covered"
  | "digits"
  | "ages"
  | "position"
  | "missing"
  | "spread"
  | "together";

export type ScenarioFileId = ScenarioGroup | "duplicates";

/** A file of scenarios: the scenarios that this survey's data and findings allow, in the order of the report. */
export type ScenarioFile = (world: World) => readonly Scenario[];
