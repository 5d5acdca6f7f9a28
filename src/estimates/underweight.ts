import { underweight1995 } from "./classes.js";
import type { PrevalenceEstimate } from "./estimate.js";

/** Underweight; a child with oedema counts as a case, since its weight cannot be read. */
export const underweight: PrevalenceEstimate = {
  id: "underweight",
  family: "underweight",
  kind: "proportion",
  outcome: "underweight",
  scheme: underweight1995,
  sources: ["who-2006", "who-1995"],
};

export const severeUnderweight: PrevalenceEstimate = {
  id: "severe-underweight",
  family: "underweight",
  kind: "proportion",
  outcome: "severe-underweight",
  sources: ["who-2006"],
};
