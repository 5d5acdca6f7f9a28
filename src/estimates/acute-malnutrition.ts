import type { OutcomeId } from "../derive/outcome.js";
import type { PrevalenceEstimate } from "./estimate.js";

// Case definitions: WHO and UNICEF joint statement 2009; WHO guideline on wasting and nutritional oedema 2023.
function acute(id: OutcomeId): PrevalenceEstimate {
  return {
    id,
    family: "acute-malnutrition",
    kind: "proportion",
    outcome: id,
    sources: ["joint-statement-2009", "who-2023"],
  };
}

/** Acute malnutrition: by weight-for-height and/or oedema, by arm circumference and/or oedema, and by any of the three. */
export const acuteMalnutrition: readonly PrevalenceEstimate[] = [
  acute("acute-malnutrition-by-weight-for-height"),
  acute("severe-acute-malnutrition-by-weight-for-height"),
  acute("acute-malnutrition-by-arm-circumference"),
  acute("severe-acute-malnutrition-by-arm-circumference"),
  acute("acute-malnutrition-combined"),
  acute("severe-acute-malnutrition-combined"),
  acute("oedema"),
];
