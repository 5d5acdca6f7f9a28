import type { Message } from "../results/schema.js";
import type { CompareSettings } from "./compare-settings.js";
import type { SurveySummary } from "./summary.js";

/** The surveys that can stand on one axis for an estimate, and the others with the reason. */
export interface Together {
  readonly surveys: readonly SurveySummary[];
  readonly leftOut: readonly { readonly survey: SurveySummary; readonly reason: Message }[];
}

/** What of the settings decides what may be set against what. */
export type ComparabilitySettings = Pick<CompareSettings, "rule" | "estimates" | "pairs" | "seasonNote">;
