import { message } from "../results/message.js";
import { reestimate } from "./reestimate.js";
import type { ScenarioFile } from "./scenario.js";

/** Every child counted the same, where the survey has sampling weights. */
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
        const equal = { ...design, weight: new Float64Array(design.count).fill(1) };
        return headlines.map(({ estimate }) => reestimate(children, equal, estimate, rule));
      },
    },
  ];
};
