import { outcome } from "../../derive/outcome.js";
import { withholdBelow } from "../../results/withhold-below.js";
import { estimateProportion, type ProportionEstimate } from "../../stats/design/proportion.js";
import { type RandomStream, randomStream, seedFor } from "../../stats/random.js";
import { changedChildren, countOf } from "../changed.js";
import { onceForEachWorld } from "../imputation.js";
import { bothMarked } from "../reestimate.js";
import type { Headline, World } from "../scenario.js";
import { absentChildren } from "./absent.js";
import { birthDates } from "./birth-dates.js";
import { positions, repeats } from "./records.js";
import type { Drawn, Repair, RepairFile } from "./repair.js";
import { rounding } from "./rounding.js";
import { teamInstruments } from "./team-instruments.js";

/** In the order in which they are applied: what was read, what it was read on, how it was written down, who is missing. */
const files: readonly RepairFile[] = [rounding, birthDates, teamInstruments, positions, repeats, absentChildren];

/** One main estimate in one draw. */
export type DrawnShare = Pick<ProportionEstimate, "estimate" | "standardError" | "degreesOfFreedom" | "n">;

/** Draws of a small survey, and the fewest of a large one, where the chance that is left in the mean of the draws is small. */
const mostDraws = 200;
const fewestDraws = 40;
const childrenDrawn = 400_000;

/** How many joint draws a survey of so many children gets. */
const drawsFor = (children: number): number =>
  Math.max(fewestDraws, Math.min(mostDraws, Math.floor(childrenDrawn / Math.max(1, children))));

/** How many draws each repair alone gets. */
const mostAlone = 60;

function share(world: World, children: World["children"], drawn: Drawn, headline: Headline, random: RandomStream) {
  const { isCase, inDomain } = outcome(children, headline.estimate.outcome, world.rule);
  const chances = drawn.absent?.(headline) ?? null;
  let cases: Uint8Array = isCase;
  let domain: Uint8Array = inDomain;
  if (chances !== null) {
    cases = isCase.slice();
    domain = inDomain.slice();
    for (let i = 0; i < chances.length; i++) {
      const chance = chances[i] as number;
      if (Number.isNaN(chance) || inDomain[i] === 1) continue;
      domain[i] = 1;
      cases[i] = random.uniform() < chance ? 1 : 0;
    }
  }
  if (drawn.counted !== null) domain = bothMarked(domain, drawn.counted);
  const { estimate, standardError, degreesOfFreedom, n } = estimateProportion(world.design, cases, domain);
  return { estimate, standardError, degreesOfFreedom, n };
}

/** Every main estimate in one draw, with some repairs applied. The same draw of the same repair is the same in any company. */
export function drawOnce(world: World, repairs: readonly Repair[], draw: number): DrawnShare[] {
  const drawn: Drawn = { columns: {}, counted: null, absent: null };
  const streamFor = (name: string): RandomStream => randomStream(seedFor(world.settings.seed, `${name}/${draw}`));
  for (const repair of repairs) repair.apply(drawn, draw, streamFor(`repair/${repair.id}`));
  const children = changedChildren(world, drawn.columns);
  return world.headlines.map((headline) =>
    share(world, children, drawn, headline, streamFor(`repair-case/${headline.estimate.id}`)),
  );
}

/** All repairs together and each alone, draw by draw. */
export interface RepairRuns {
  readonly repairs: readonly Repair[];
  /** Repairs that so few children are touched by that nothing may be told of what they do. */
  readonly keptBack: readonly Repair[];
  /** Draw by draw, and in each headline by headline. */
  readonly joint: readonly (readonly DrawnShare[])[];
  /** The same for each repair. */
  readonly alone: readonly (readonly (readonly DrawnShare[])[])[];
}

/** The repairs that this survey's findings ask for. */
function repairsOf(world: World, draws: number): { readonly told: Repair[]; readonly keptBack: Repair[] } {
  const all = files.flatMap((file) => file(world, draws));
  const few = (repair: Repair): boolean => {
    const count = countOf(repair.touched);
    return count > 0 && count < withholdBelow;
  };
  return { told: all.filter((one) => !few(one)), keptBack: all.filter(few) };
}

/** Draws the survey with the findings put right: all repairs in each draw, and each alone in a part of them. */
function runRepairs(world: World): RepairRuns {
  const draws = drawsFor(world.children.count);
  const { told, keptBack } = repairsOf(world, draws);
  if (told.length === 0) return { repairs: told, keptBack, joint: [], alone: [] };
  const each = (repairs: readonly Repair[], count: number) =>
    Array.from({ length: count }, (_, draw) => drawOnce(world, repairs, draw));
  const few = Math.min(draws, mostAlone);
  const joint = each(told, draws);
  return { repairs: told, keptBack, joint, alone: told.length === 1 ? [joint] : told.map((one) => each([one], few)) };
}

/** The draws of a survey, made once. */
export const runsOf = onceForEachWorld(runRepairs);
