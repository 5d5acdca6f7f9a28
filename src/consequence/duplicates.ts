import type { Children } from "../derive/children.js";
import { message } from "../results/message.js";
import { reestimate } from "./reestimate.js";
import type { ScenarioFile } from "./scenario.js";

/** 1 for every child but those that repeat an earlier row of the same cluster in sex, age and all measures taken. */
export function withoutRepeats(children: Children): Uint8Array {
  const seen = new Set<string>();
  const { sex, ageDays, weight, height, arm, cluster } = children;
  const kept = new Uint8Array(children.count).fill(1);
  for (let i = 0; i < children.count; i++) {
    const w = weight?.values[i] ?? Number.NaN;
    const h = height?.values[i] ?? Number.NaN;
    const a = arm?.values[i] ?? Number.NaN;
    if (Number(Number.isNaN(w)) + Number(Number.isNaN(h)) + Number(Number.isNaN(a)) > 1) continue;
    const key = `${cluster?.codes[i] ?? -1} ${sex[i]} ${ageDays[i]} ${w} ${h} ${a}`;
    if (seen.has(key)) kept[i] = 0;
    else seen.add(key);
  }
  return kept;
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
