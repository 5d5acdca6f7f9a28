import type { Children } from "../derive/children.js";
import { type ChangedColumns, rescore } from "../derive/rescore.js";
import { classOf } from "../estimates/classes.js";
import type { TippingPoint } from "../results/schema.js";
import { reestimate } from "./reestimate.js";
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

/** The children as they would be had the instrument been right: an instrument that reads high by e takes e off. */
function corrected(
  world: World,
  facts: InstrumentFacts,
  steps: number,
  direction: Direction,
  team: number | null,
): Children {
  const column = world.children[facts.measure];
  if (column === null) return world.children;
  const shift = (direction === "reads-high" ? -steps : steps) * facts.step;
  const teams = world.children.team?.codes;
  const values = column.values.map((value, i) => (team === null || teams?.[i] === team ? value + shift : value));
  const changed: ChangedColumns = { [facts.measure]: values };
  return rescore(world.children, changed, world.settings.exclusions.widthAroundMean);
}

/** Prevalence had the instrument been wrong by `error` (in its unit) in that direction for that team (null: for all). */
export function prevalenceWithError(
  world: World,
  headline: Headline,
  instrument: Instrument,
  error: number,
  direction: Direction,
  team: number | null,
): number {
  const facts = instruments[instrument];
  const children = corrected(world, facts, Math.round(error * facts.stepsPerUnit), direction, team);
  return reestimate(children, world.design, headline.estimate, world.rule).value;
}

/** Whether a value of the estimate is another result than the published one: another class, or outside its own interval. */
function isAnother(headline: Headline, value: number): boolean {
  const { scheme } = headline.estimate;
  if (scheme !== undefined) return classOf(scheme, value) !== classOf(scheme, headline.published.value);
  const { low, high } = headline.published;
  return low !== null && high !== null && (value < low || value > high);
}

/** The least number of steps from 1 to `most` at which `holds`, taking it to hold from there on; null when it never does. */
function leastStep(most: number, holds: (steps: number) => boolean): number | null {
  if (!holds(most)) return null;
  let fails = 0;
  let least = most;
  while (least - fails > 1) {
    const middle = Math.floor((least + fails) / 2);
    if (holds(middle)) least = middle;
    else fails = middle;
  }
  return least;
}

function tippingPoint(
  world: World,
  headline: Headline,
  instrument: Instrument,
  direction: Direction,
  team: number | null,
): TippingPoint {
  const facts = instruments[instrument];
  const valueAt = (steps: number): number =>
    prevalenceWithError(world, headline, instrument, steps / facts.stepsPerUnit, direction, team);
  const most = facts.searchTo * facts.stepsPerUnit;
  const found = leastStep(most, (steps) => isAnother(headline, valueAt(steps)));
  const error = found === null ? null : found / facts.stepsPerUnit;
  const valueAfter = found === null ? null : valueAt(found);
  const { scheme } = headline.estimate;
  return {
    estimate: headline.estimate.id,
    instrument,
    direction,
    team: team === null ? null : (world.children.team?.publicLabels[team] ?? null),
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

/**
 * For every instrument, direction and estimate it bears on: the smallest constant error that would move the estimate into
 * another published class; where no class is published, out of its own 95 % interval. Found by bisection on the full
 * estimate (exclusions, tables and design included), to 1 g and 0.1 mm. Scales and tapes also for each team alone.
 */
export function tippingPoints(world: World): readonly TippingPoint[] {
  const directions: readonly Direction[] = ["reads-high", "reads-low"];
  const teams = (world.children.team?.labels.length ?? 0) > 1 ? world.children.team?.labels.map((_, code) => code) : [];
  return (Object.keys(instruments) as Instrument[]).flatMap((instrument) => {
    const facts = instruments[instrument];
    if (world.children[facts.measure] === null) return [];
    const headlines = world.headlines.filter((one) => facts.estimates.includes(one.estimate.id) && canTip(one));
    const whose: readonly (number | null)[] = instrument === "board" ? [null] : [null, ...(teams ?? [])];
    return whose.flatMap((team) =>
      headlines.flatMap((headline) =>
        directions.map((direction) => tippingPoint(world, headline, instrument, direction, team)),
      ),
    );
  });
}
