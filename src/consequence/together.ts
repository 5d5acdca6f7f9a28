import type { Children } from "../derive/children.js";
import { outcome } from "../derive/outcome.js";
import { message } from "../results/message.js";
import { estimateProportion } from "../stats/design/proportion.js";
import type { RandomStream } from "../stats/random.js";
import { ageDraw } from "./ages.js";
import { changedChildren, changedRows, marksOf } from "./changed.js";
import { digitDraw, roundedMeasures } from "./digits.js";
import { withoutRepeats } from "./duplicates.js";
import { completedSets, type Draw, drawTogether } from "./imputation.js";
import { notJudged } from "./missing.js";
import { poolAll } from "./pooling.js";
import { bothMarked, withChanged, withInterval } from "./reestimate.js";
import type { Headline, Reestimate, ScenarioFile, World } from "./scenario.js";

/** One headline with missing children drawn as cases, between as often and twice as often as the measured ones. */
function drawn(
  world: World,
  children: Children,
  { estimate }: Headline,
  only: Uint8Array,
  excessRisk: number,
  random: RandomStream,
): Reestimate {
  const { isCase, inDomain } = outcome(children, estimate.outcome, world.rule);
  const measured = estimateProportion(world.design, isCase, bothMarked(inDomain, only)).estimate;
  const absent = notJudged(children, estimate);
  const risk = Math.min(1, excessRisk * measured);
  const cases = Uint8Array.from(isCase);
  const everyone = new Uint8Array(children.count);
  for (let i = 0; i < children.count; i++) {
    if (absent[i] === 1) cases[i] = random.uniform() < risk ? 1 : 0;
    if (only[i] === 1 && (inDomain[i] === 1 || absent[i] === 1)) everyone[i] = 1;
  }
  const speaks = { members: bothMarked(inDomain, only), isCase: null, atRandom: true };
  return withInterval(estimate.id, estimateProportion(world.design, cases, everyone), speaks);
}

/**
 * All findings at once: every heaped measure and age back in its interval, ages in whole months anywhere in their month,
 * repeated rows once, children without a measure as cases between as often and twice as often as the others; pooled over
 * completed data sets by Rubin's rules. Several small faults are so not each dismissed.
 */
export const together: ScenarioFile = (world) => {
  const age = ageDraw(world);
  const draws: readonly Draw[] = [
    ...roundedMeasures.flatMap((rounded) => digitDraw(world, rounded) ?? []),
    ...(age === null ? [] : [age]),
  ];
  const only = withoutRepeats(world.children);
  const anyMissing = world.headlines.some(({ estimate }) => notJudged(world.children, estimate).includes(1));
  if (draws.length === 0 && !only.includes(0) && !anyMissing) return [];
  return [
    {
      id: "together/all",
      group: "together",
      label: message("scenario.together.all"),
      kind: "estimate",
      checks: [],
      run: ({ headlines }, random) => {
        const runs = Array.from({ length: completedSets }, () => {
          const excessRisk = 1 + random.uniform();
          const columns = drawTogether(draws, random);
          const changed = changedChildren(world, columns);
          const isChanged = marksOf(changedRows(world.children, columns), changed.count);
          return headlines.map((headline) =>
            withChanged(drawn(world, changed, headline, only, excessRisk, random), isChanged),
          );
        });
        return poolAll(runs);
      },
    },
  ];
};
