import { message } from "../results/message.js";
import { reestimate } from "./reestimate.js";
import type { ScenarioFile } from "./scenario.js";

/** Every child that counts at all counted the same, where the survey has sampling weights. */
export const weights: ScenarioFile = (world) => {
  if (world.children.samplingWeight === null) return [];
  return [
    {
      id: "weights/off",
      group: "weights",
      label: message("scenario.weights.off"),
      kind: "estimate",
      checks: [],
      run: ({ children, design, headlines, rule }) => {
        const equal = { ...design, weight: design.weight.map((weight) => (weight > 0 ? 1 : 0)) };
        return headlines.map(({ estimate }) => reestimate(children, equal, estimate, rule));
      },
    },
  ];
};
