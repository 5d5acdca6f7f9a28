import type { Answer, Claim, TippingPoint } from "../results/schema.js";
import { studentQuantile } from "../stats/student-t.js";
import { settledFrom } from "./claims/claims.js";
import { shiftedPrevalence } from "./instrument-error.js";
import type { Headline, World } from "./scenario.js";

export type Instrument = TippingPoint["instrument"];
type Direction = TippingPoint["direction"];

interface InstrumentFacts {
  readonly measure: "weight" | "height" | "arm";
  readonly unit: TippingPoint["unit"];
  /** One search step in the measure's own unit, and how many of them make one `unit`. */
  readonly step: number;
  readonly stepsPerUnit: number;
  /** Largest error looked at, in `unit`. */
  readonly searchTo: number;
  /** The step it is usually read to, and the error that a daily check lets pass, in `unit`. */
  readonly readingStep: number;
  readonly tolerance: number;
  /** Estimates that the instrument bears on. */
  readonly estimates: readonly string[];
}

// Reading steps and tolerances: common practice, no source (a hanging scale is read to 100 g and checked daily with a
// known weight to its reading step; a board is read to 1 mm and checked with a rod to 3 mm; a tape is read to 1 mm and
// checked against a cylinder to its reading step).
export const instruments: Readonly<Record<Instrument, InstrumentFacts>> = {
  scale: {
    measure: "weight",
    unit: "gram",
    step: 0.001,
    stepsPerUnit: 1,
    searchTo: 1000,
    readingStep: 100,
    tolerance: 100,
    estimates: ["wasting", "underweight", "overweight"],
  },
  board: {
    measure: "height",
    unit: "millimetre",
    step: 0.01,
    stepsPerUnit: 10,
    searchTo: 40,
    readingStep: 1,
    tolerance: 3,
    estimates: ["wasting", "stunting", "overweight"],
  },
  tape: {
    measure: "arm",
    unit: "millimetre",
    step: 0.1,
    stepsPerUnit: 10,
    searchTo: 20,
    readingStep: 1,
    tolerance: 1,
    estimates: ["acute-malnutrition-by-arm-circumference"],
  },
};

/**
 * Prevalence as a function of how many search steps an instrument read too high (negative: too low), for one team or
 * (null) for all: an instrument that reads high by e is put right by taking e off.
 */
export function prevalenceByError(
  world: World,
  headline: Headline,
  instrument: Instrument,
  team: number | null,
): (steps: number) => number {
  const { measure, step } = instruments[instrument];
  const prevalence = shiftedPrevalence(world, headline, measure, team);
  return (steps) => prevalence(-steps * step);
}

/** Parts of the search range at which a change is looked for before it is narrowed down. */
const lookedAt: readonly number[] = [0.01, 0.02, 0.04, 0.07, 0.1, 0.15, 0.2, 0.3, 0.4, 0.55, 0.7, 0.85, 1];

/** The same where the limits of plausible values move with every step: much finer, since the result may turn back at any place. */
const lookedAtClosely: readonly number[] = Array.from({ length: 100 }, (_, i) => (i + 1) / 100);

/**
 * The least number of steps from 1 to `most` at which `holds`; null when it is seen nowhere. Looks outwards from no error
 * at more and more distant places and halves the first stretch at whose far end it holds. Looking only at `most` would
 * not do: far out, children pass the limits of plausible values and the prevalence may turn back into its own class.
 *
 * With `everyStep` it looks at a hundred places and then at every step before the first at which it holds, for where limits
 * around the survey's mean move: children then enter and leave at any place, and halving would pass a smaller step by.
 */
export function leastStep(most: number, holds: (steps: number) => boolean, everyStep = false): number | null {
  let fails = 0;
  for (const part of everyStep ? lookedAtClosely : lookedAt) {
    const end = Math.max(1, Math.round(part * most));
    if (end <= fails) continue;
    if (!holds(end)) {
      fails = end;
      continue;
    }
    if (everyStep) {
      let first = 1;
      while (first < end && !holds(first)) first++;
      return first;
    }
    let least = end;
    while (least - fails > 1) {
      const middle = Math.floor((least + fails) / 2);
      if (holds(middle)) least = middle;
      else fails = middle;
    }
    return least;
  }
  return null;
}

/**
 * The value beyond which a claim could no longer be said: where the chance on its side falls to 0.95, with the standard error
 * that the estimate has on the logit scale.
 */
function undoneAt({ value, standardError, degreesOfFreedom }: Answer, { limit, side }: Claim): number | null {
  if (!(value > 0 && value < 1) || standardError === null || degreesOfFreedom === null) return null;
  const half = (studentQuantile(settledFrom, degreesOfFreedom) * standardError) / (value * (1 - value));
  const at = Math.log(limit / (1 - limit)) + (side === "above" ? half : -half);
  return 1 / (1 + Math.exp(-at));
}

function tippingPoint(
  world: World,
  headline: Headline,
  answer: Answer,
  claim: Claim,
  instrument: Instrument,
): TippingPoint[] {
  const facts = instruments[instrument];
  const undone = undoneAt(answer, claim);
  if (undone === null) return [];
  const prevalence = prevalenceByError(world, headline, instrument, null);
  const holds = (value: number): boolean => (claim.side === "above" ? value < undone : value > undone);
  const everyStep = world.rule === "around-mean";
  const directions: readonly Direction[] = ["reads-high", "reads-low"];
  const found = directions.map((direction) => {
    const valueAt = (steps: number): number => prevalence(direction === "reads-high" ? steps : -steps);
    const steps = leastStep(facts.searchTo * facts.stepsPerUnit, (at) => holds(valueAt(at)), everyStep);
    return { direction, steps, value: steps === null ? null : valueAt(steps) };
  });
  // One direction takes the estimate towards the limit; the other away from it, and back only where children pass the limits
  // of plausible values.
  const [nearest] = [...found].sort(
    (a, b) => (a.steps ?? Number.POSITIVE_INFINITY) - (b.steps ?? Number.POSITIVE_INFINITY),
  );
  if (nearest === undefined) return [];
  const error = nearest.steps === null ? null : nearest.steps / facts.stepsPerUnit;
  return [
    {
      estimate: answer.estimate,
      limit: claim.limit,
      side: claim.side,
      instrument,
      direction: nearest.direction,
      of: answer.of,
      unit: facts.unit,
      error,
      searchedTo: facts.searchTo,
      valueAfter: nearest.value,
      readingStep: facts.readingStep,
      tolerance: facts.tolerance,
      caught: error === null ? null : error > facts.tolerance,
    },
  ];
}

/** The claim nearest to the estimate on each side, of those that can be said. */
function nearestSaid(claims: readonly Claim[], estimate: string): Claim[] {
  const said = claims.filter((claim) => claim.estimate === estimate && claim.state === "can-be-said");
  const above = said.filter(({ side }) => side === "above").at(-1);
  const below = said.find(({ side }) => side === "below");
  return [above, below].filter((claim) => claim !== undefined);
}

/**
 * For what can be said, and each kind of instrument that bears on it: the smallest constant error of all instruments of the kind
 * that would undo it. An error that all share shows in no difference between teams. Found by search on the full estimate
 * (exclusions, tables and weights included), to 1 g and 0.1 mm. Nothing is looked for where the claim is open anyway.
 */
export function tippingPoints(world: World, answers: readonly Answer[], claims: readonly Claim[]): TippingPoint[] {
  return answers.flatMap((answer) => {
    const headline = world.headlines.find(({ estimate }) => estimate.id === answer.estimate);
    if (headline === undefined) return [];
    return nearestSaid(claims, answer.estimate).flatMap((claim) =>
      (Object.keys(instruments) as Instrument[])
        .filter((instrument) => instruments[instrument].estimates.includes(answer.estimate))
        .filter((instrument) => world.children[instruments[instrument].measure] !== null)
        .flatMap((instrument) => tippingPoint(world, headline, answer, claim, instrument)),
    );
  });
}
