import type { IndexId } from "../derive/children.js";
import type { OutcomeId } from "../derive/outcome.js";
import type { SourceId } from "../results/sources.js";

type EstimateFamily = "wasting" | "acute-malnutrition" | "stunting" | "underweight" | "overweight" | "means";

interface EstimateBase {
  /** Key in results.json, anchor in the report, message `estimate.<id>`. */
  readonly id: string;
  readonly family: EstimateFamily;
  /** Ids of results/sources.ts. */
  readonly sources: readonly SourceId[];
}

/** Share of children who are cases of an outcome. */
export interface PrevalenceEstimate extends EstimateBase {
  readonly kind: "proportion";
  readonly outcome: OutcomeId;
  /** The published classes the estimate is held against; absent where no class is published for it. */
  readonly scheme?: ClassScheme;
}

/** Mean of one z-score index. */
export interface MeanEstimate extends EstimateBase {
  readonly kind: "mean";
  readonly index: IndexId;
}

export type Estimate = PrevalenceEstimate | MeanEstimate;

/** Published classes of a prevalence: half-open intervals [from, next from). */
export interface ClassScheme {
  /** 'who-unicef-2019' or 'who-1995': message `scheme.<id>`. */
  readonly id: string;
  readonly classes: readonly { readonly id: string; readonly from: number }[];
}
