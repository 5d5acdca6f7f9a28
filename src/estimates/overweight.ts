import { wasting2019 } from "./classes.js";
import type { PrevalenceEstimate } from "./estimate.js";

export const overweight: PrevalenceEstimate = {
  id: "overweight",
  family: "overweight",
  kind: "proportion",
  outcome: "overweight",
  scheme: wasting2019,
  sources: ["who-2006", "de-onis-2019"],
};

export const obesity: PrevalenceEstimate = {
  id: "obesity",
  family: "overweight",
  kind: "proportion",
  outcome: "obesity",
  sources: ["who-2006", "obesity-three-sd"],
};
