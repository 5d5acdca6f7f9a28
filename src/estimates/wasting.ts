import { wasting2019 } from "./classes.js";
import type { PrevalenceEstimate } from "./estimate.js";

/** Wasting by weight-for-height alone; children with oedema have no weight-for-height score and stand outside it. */
export const wasting: PrevalenceEstimate = {
  id: "wasting",
  family: "wasting",
  kind: "proportion",
  outcome: "wasting",
  scheme: wasting2019,
  sources: ["who-2006", "de-onis-2019"],
};

export const severeWasting: PrevalenceEstimate = {
  id: "severe-wasting",
  family: "wasting",
  kind: "proportion",
  outcome: "severe-wasting",
  sources: ["who-2006"],
};
