import type { Children } from "../derive/children.js";
import { message } from "../results/message.js";
import { reestimate } from "./reestimate.js";
import type { ScenarioFile } from "./scenario.js";

/** 1 for every child but those that repeat an earlier row of the same cluster in sex, age and all measures taken. */
export function withoutRepeats(children: Children): Uint8Array {
  const seen = new Set<string>();
  const { sex, ageDays, weight, height, arm, cluster } = children;
  return Uint8Array.from({ length: children.count }, (_, i) => {
    const measures = [weight, height, arm].map((column) => column?.values[i] ?? Number.NaN);
    if (measures.filter((value) => !Number.isNaN(value)).length < 2) return 1;
    const key = [cluster?.codes[i] ?? -1, sex[i], ageDays[i], ...measures].join(" ");
    if (seen.has(key)) return 0;
    seen.add(key);
    return 1;
  });
}

/** The survey with each repeated row counted once. */
export const duplicates: ScenarioFile = (world) => {
  const only = withoutRepeats(world.children);
  if (!only.includes(0)) return [];
  return [
    {
      id: "duplicates/once",
      group: "influence",
      label: message("scenario.duplicates.once"),
      kind: "estimate",
      checks: ["duplicate-rows"],
      run: ({ children, design, headlines, rule }) =>
        headlines.map(({ estimate }) => reestimate(children, design, estimate, rule, only)),
    },
  ];
};
