import { message } from "../results/message.js";
import { untouched } from "./claims/untouched.js";
import { poolAll } from "./pooling.js";
import { withInterval } from "./reestimate.js";
import { runsOf } from "./repairs/draw.js";
import type { Reestimate, ScenarioFile } from "./scenario.js";

/**
 * All findings at once: the joint draws in which every finding that has a repair is put right, pooled by Rubin's rules. A
 * comparison takes them in both surveys. Several small faults are so not each dismissed.
 */
export const together: ScenarioFile = (world) => {
  const { joint, repairs } = runsOf(world);
  if (joint.length === 0) return [];
  const differs = (h: number): boolean => {
    const published = world.headlines[h]?.published;
    return joint.some((draw) => draw[h]?.estimate !== published?.value || draw[h]?.n !== published?.n);
  };
  return [
    {
      id: "together/all",
      group: "together",
      label: message("scenario.together.all"),
      kind: "estimate",
      checks: [],
      run: ({ headlines }) => {
        const speaks = headlines.map((headline) => ({
          members: untouched(headline, repairs),
          isCase: null,
          atRandom: true,
        }));
        return poolAll(
          joint.map((draw) =>
            headlines.map(({ estimate, published }, h): Reestimate => {
              const [own, members] = [draw[h], speaks[h]];
              if (own === undefined || members === undefined || !differs(h)) return published;
              return withInterval(estimate.id, { ...own, variance: own.standardError ** 2 }, members);
            }),
          ),
        );
      },
    },
  ];
};
