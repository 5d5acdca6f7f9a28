import type { MeasureColumn } from "../columns/survey.js";
import type { Children, IndexId } from "../derive/children.js";
import { usable } from "../derive/exclusions.js";
import type { CheckId } from "../results/check-ids.js";
import { message } from "../results/message.js";
import { gridOf } from "../stats/grid.js";
import { affectedGroups } from "./affected.js";
import { changedChildren } from "./changed.js";
import { type Draw, imputed, onceForEachWorld } from "./imputation.js";
import { type Candidates, plausibleOffsets } from "./plausibility.js";
import type { Scenario, ScenarioFile, World } from "./scenario.js";
import { drawOffsets, excessShares, type Rounding } from "./spreading.js";

interface RoundedMeasure {
  readonly measure: "weight" | "height" | "arm";
  readonly check: CheckId;
  /** What surveys are asked to read to, in the measure's unit: 100 g, 1 mm, 1 mm. Ten of it make a whole unit. */
  readonly resolution: number;
  /** z-scores that say how plausible a candidate is. */
  readonly pair: readonly [IndexId, IndexId];
  /** True where the first of them rises unevenly with the measure (its L is not 1). */
  readonly unevenRate: boolean;
}

// What surveys read to (100 g, 1 mm): common practice, no source; arm circumference to 1 mm: read in a field handbook.
export const roundedMeasures: readonly RoundedMeasure[] = [
  {
    measure: "weight",
    check: "weight-digits",
    resolution: 0.1,
    pair: ["weight-for-height", "height-for-age"],
    unevenRate: true,
  },
  {
    measure: "height",
    check: "height-digits",
    resolution: 0.1,
    pair: ["weight-for-height", "height-for-age"],
    unevenRate: false,
  },
  { measure: "arm", check: "arm-digits", resolution: 1, pair: ["arm-for-age", "weight-for-height"], unevenRate: true },
];

/** In tenths: 9.5 to 10.5 are rounded to the whole 10, and 9.3 to 9.7 to the half 9.5. */
const whole = { from: -5, to: 5, endsShared: true } as const;
const half = { from: -2, to: 2, endsShared: false } as const;

/** 2 for a reading at a whole unit, 1 at a half, 0 at any other place, -1 where missing. */
function placeOf(value: number, unit: number): number {
  if (!(value > 0)) return -1;
  const halves = (2 * value) / unit;
  const nearest = Math.round(halves);
  if (Math.abs(halves - nearest) > 1e-6) return 0;
  return nearest % 2 === 0 ? 2 : 1;
}

/** Which readings were rounded, and how likely, from how many of each affected group stand at whole and half units. */
function roundingOf({ values, step }: MeasureColumn, resolution: number, groups: readonly Uint8Array[]): Rounding {
  const unit = 10 * resolution;
  // Places that the column can show within a unit: ten of 1 mm, two of 5 mm; none of them a half where they are odd. An
  // instrument read to 0.5 mm and written with two decimals shows twenty, and not a hundred.
  const places = Math.max(1, Math.round(unit / gridOf(values, step, resolution)));
  const other = Math.max(1, places - (places % 2 === 0 ? 2 : 1));
  const wholeShare = new Float64Array(values.length);
  const halfShare = new Float64Array(values.length);
  const at = Int8Array.from(values, (value) => placeOf(value, unit));
  for (const group of groups) {
    const counts: [number, number, number] = [0, 0, 0];
    at.forEach((place, i) => {
      if (place >= 0 && group[i] === 1) counts[place as 0 | 1 | 2] += 1;
    });
    const shares = excessShares(counts[2], counts[1], counts[0] / other);
    at.forEach((place, i) => {
      if (group[i] !== 1 || place <= 0) return;
      wholeShare[i] = place === 2 ? shares.wholeToWhole : 0;
      halfShare[i] = place === 2 ? shares.wholeToHalf : shares.halfToHalf;
    });
  }
  return { wholeShare, halfShare, whole, half };
}

/** Log of the rise of a z-score from the step below to the step above; at the ends from the one neighbour there is. */
function logRates(columns: readonly Float64Array[]): Float64Array[] {
  return columns.map((column, k) => {
    const below = columns[k - 1] ?? column;
    const above = columns[k + 1] ?? column;
    const steps = columns[k - 1] === undefined || columns[k + 1] === undefined ? 1 : 2;
    return column.map((_, i) => {
      const rise = ((above[i] ?? Number.NaN) - (below[i] ?? Number.NaN)) / steps;
      return rise > 0 ? Math.log(rise) : 0;
    });
  });
}

function candidatesOf(world: World, { measure, resolution, pair, unevenRate }: RoundedMeasure): Candidates {
  const { children } = world;
  const values = children[measure]?.values ?? new Float64Array(children.count).fill(Number.NaN);
  const at = Array.from({ length: whole.to - whole.from + 1 }, (_, k): Children => {
    const shift = (whole.from + k) * resolution;
    const more: readonly IndexId[] = measure === "arm" ? ["arm-for-age"] : [];
    return changedChildren(world, { [measure]: values.map((value) => value + shift) }, more);
  });
  const first = at.map(({ indices }) => indices[pair[0]].z);
  const second = at.map(({ indices }) => indices[pair[1]].z);
  const [keep, too] = pair.map((index) => usable(children, index, "fixed"));
  const kept = Uint8Array.from({ length: children.count }, (_, i) => (keep?.[i] === 1 && too?.[i] === 1 ? 1 : 0));
  return { from: whole.from, first, second, logRate: unevenRate ? logRates(first) : null, kept };
}

function makeDraw(world: World, rounded: RoundedMeasure): Draw | null {
  const column = world.children[rounded.measure];
  const groups = affectedGroups(world, rounded.check);
  if (column === null || groups.length === 0) return null;
  const table = plausibleOffsets(candidatesOf(world, rounded), roundingOf(column, rounded.resolution, groups));
  if (table.rounded.length === 0) return null;
  return (random) => {
    const offsets = drawOffsets(table, column.values.length, random);
    return { [rounded.measure]: column.values.map((value, i) => value + (offsets[i] ?? 0) * rounded.resolution) };
  };
}

const allDraws = onceForEachWorld(
  (world) => new Map(roundedMeasures.map((rounded) => [rounded.measure, makeDraw(world, rounded)])),
);

/** A draw that puts a heaped measure back into its rounding intervals; null where the check found no heaping. */
export function digitDraw(world: World, { measure }: Pick<RoundedMeasure, "measure">): Draw | null {
  return allDraws(world).get(measure) ?? null;
}

function scenarioFor(rounded: RoundedMeasure, draw: Draw): Scenario {
  return {
    id: `digits/${rounded.measure}`,
    group: "digits",
    label: message(`scenario.digits.${rounded.measure}`),
    kind: "estimate",
    checks: [rounded.check],
    run: (world, random) => imputed(world, [draw], random),
  };
}

/** Measurements that were rounded to whole or half units, spread over what they were rounded from (multiple imputation). */
export const digits: ScenarioFile = (world) =>
  roundedMeasures.flatMap((rounded) => {
    const draw = digitDraw(world, rounded);
    return draw === null ? [] : [scenarioFor(rounded, draw)];
  });
