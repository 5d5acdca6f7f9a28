import { rescore } from "../derive/rescore.js";
import { message } from "../results/message.js";
import { reestimate, withChanged } from "./reestimate.js";
import type { ScenarioFile } from "./scenario.js";

/**
 * Children recorded in the other position than their age asks for are converted by 0.7 cm. Here they are not: as if the
 * record of the position was wrong and the measurement right.
 */
export const position: ScenarioFile = (world) => {
  const { position: recorded, positionWanted } = world.children;
  const isOther = Uint8Array.from(positionWanted, (wanted, i) => {
    const code = recorded?.[i] ?? 0;
    return code !== 0 && wanted !== 0 && code !== wanted ? 1 : 0;
  });
  if (!isOther.includes(1)) return [];
  return [
    {
      id: "position/not-converted",
      group: "position",
      label: message("scenario.position.not-converted"),
      kind: "estimate",
      checks: ["measuring-position"],
      run: ({ children, design, headlines, rule, settings }) => {
        const asWanted = Uint8Array.from(children.positionWanted);
        const changed = rescore(children, { position: asWanted }, settings.exclusions.widthAroundMean);
        return headlines.map(({ estimate }) => withChanged(reestimate(changed, design, estimate, rule), isOther));
      },
    },
  ];
};
