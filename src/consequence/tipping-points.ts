import { bookOf, expendable } from "../disclosure/book.js";
import { keyOf } from "../disclosure/splits.js";
import { classOf } from "../estimates/classes.js";
import type { GroupId } from "../results/group.js";
import type { TippingPoint } from "../results/schema.js";
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

/** Whether a value of the estimate is another result than the published one: another class, or outside its own interval. */
function isAnother(headline: Headline, value: number): boolean {
  const { scheme } = headline.estimate;
  if (scheme !== undefined) return classOf(scheme, value) !== classOf(scheme, headline.published.value);
  const { low, high } = headline.published;
  return low !== null && high !== null && (value < low || value > high);
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

function tippingPoint(
  headline: Headline,
  instrument: Instrument,
  direction: Direction,
  { of, team }: Pick<TippingPoint, "of" | "team">,
  prevalence: (steps: number) => number,
  everyStep: boolean,
): TippingPoint {
  const facts = instruments[instrument];
  const valueAt = (steps: number): number => prevalence(direction === "reads-high" ? steps : -steps);
  const found = leastStep(
    facts.searchTo * facts.stepsPerUnit,
    (steps) => isAnother(headline, valueAt(steps)),
    everyStep,
  );
  const error = found === null ? null : found / facts.stepsPerUnit;
  const valueAfter = found === null ? null : valueAt(found);
  const { scheme } = headline.estimate;
  return {
    of,
    estimate: headline.estimate.id,
    instrument,
    direction,
    team,
    unit: facts.unit,
    error,
    searchedTo: facts.searchTo,
    criterion: scheme === undefined ? "interval" : "class",
    from: headline.class,
    to: scheme === undefined || valueAfter === null ? null : (scheme.classes[classOf(scheme, valueAfter)]?.id ?? null),
    valueAfter,
    readingStep: facts.readingStep,
    tolerance: facts.tolerance,
    caught: error === null ? null : error > facts.tolerance,
  };
}

/** Estimates that no class is published for need an interval to be left. */
function canTip(headline: Headline): boolean {
  return headline.estimate.scheme !== undefined || headline.published.low !== null;
}

/** Teams searched one by one; where there are more, the largest of them. */
const mostTeams = 15;

/** Codes of the teams that a fault may be confined to: none where one team did everything. */
function teamsToSearch({ children }: World): readonly number[] {
  const { team } = children;
  if (team === null || team.labels.length < 2) return [];
  const sizes = new Float64Array(team.labels.length);
  for (const code of team.codes) if (code >= 0) sizes[code] = (sizes[code] ?? 0) + 1;
  const codes = [...sizes.keys()].sort((a, b) => (sizes[b] ?? 0) - (sizes[a] ?? 0) || a - b);
  return codes.slice(0, mostTeams).sort((a, b) => a - b);
}

/** Everybody in the estimate's denominator. */
export const wholeOf = ({ children }: World, { estimate, published }: Headline): GroupId =>
  bookOf(children).subject(estimate.id, published.speaks.members, { aboutHealth: true, rank: expendable.main }).whole;

/** All children, or one team where it may be told of; null where it may not. */
function tellable(world: World, headline: Headline, team: number | null): Pick<TippingPoint, "of" | "team"> | null {
  if (team === null) return { of: wholeOf(world, headline), team: null };
  const { children } = world;
  const { members } = headline.published.speaks;
  const label = children.team?.publicLabels[team] ?? "";
  const subject = bookOf(children).subject(headline.estimate.id, members, { aboutHealth: true });
  const of = children.team === null ? null : subject.part(keyOf(children.team), team, { by: "team", label });
  return of === null ? null : { of, team: label };
}

/**
 * For every instrument, direction and estimate it bears on: the smallest constant error that would move the estimate into
 * another published class; where no class is published, out of its own 95 % interval. Found by search on the full
 * estimate (exclusions, tables and weights included), to 1 g and 0.1 mm. Scales and tapes also for each team alone.
 */
export function tippingPoints(world: World): readonly TippingPoint[] {
  const directions: readonly Direction[] = ["reads-high", "reads-low"];
  return (Object.keys(instruments) as Instrument[]).flatMap((instrument) => {
    const facts = instruments[instrument];
    if (world.children[facts.measure] === null) return [];
    const headlines = world.headlines.filter((one) => facts.estimates.includes(one.estimate.id) && canTip(one));
    const whose: readonly (number | null)[] = instrument === "board" ? [null] : [null, ...teamsToSearch(world)];
    return whose.flatMap((team) =>
      headlines.flatMap((headline) => {
        const whom = tellable(world, headline, team);
        if (whom === null) return [];
        const prevalence = prevalenceByError(world, headline, instrument, team);
        const everyStep = world.rule === "around-mean";
        return directions.map((direction) =>
          tippingPoint(headline, instrument, direction, whom, prevalence, everyStep),
        );
      }),
    );
  });
}
