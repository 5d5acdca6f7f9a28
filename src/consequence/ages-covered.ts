import { message } from "../results/message.js";
import { reestimate } from "./reestimate.js";
import type { ScenarioFile } from "./scenario.js";

const sixMonths = 6;

/**
 * Without the children under six months, whose lengths are hardest to take and whom many surveys leave out. A child whose age
 * is not known is left out too: nobody can say that it was six months old.
 */
export const agesCovered: ScenarioFile = (world) => {
  const young = (months: number): boolean => months < sixMonths;
  if (!world.children.ageMonths.some(young)) return [];
  return [
    {
      id: "ages-covered/from-six-months",
      group: "ages-covered",
      label: message("scenario.ages-covered.from-six-months"),
      kind: "estimate",
      checks: ["age-groups"],
      run: ({ children, design, headlines, rule }) => {
        const only = Uint8Array.from(children.ageMonths, (months) => (months >= sixMonths ? 1 : 0));
        return headlines.map(({ estimate }) => reestimate(children, design, estimate, rule, only));
      },
    },
  ];
};
