import { stunting2019 } from "./classes.js";
import type { PrevalenceEstimate } from "./estimate.js";

export const stunting: PrevalenceEstimate = {
  id: "stunting",
  family: "stunting",
  kind: "proportion",
  outcome: "stunting",
  scheme: stunting2019,
  sources: ["who-2006", "de-onis-2019"],
};

export const severeStunting: PrevalenceEstimate = {
  id: "severe-stunting",
  family: "stunting",
  kind: "proportion",
  outcome: "severe-stunting",
  sources: ["who-2006"],
};
