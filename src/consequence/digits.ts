import type { Children, IndexId } from "../derive/children.js";
import { rescore } from "../derive/rescore.js";
import { message } from "../results/message.js";
import { affectedGroups } from "./affected.js";
import { type Draw, imputed } from "./imputation.js";
import { pairPlausibility } from "./plausibility.js";
import type { Scenario, ScenarioFile, World } from "./scenario.js";
import { drawOffsets, excessShares, type Rounding } from "./spreading.js";

type Measure = "weight" | "height" | "arm";

interface RoundedMeasure {
  readonly measure: Measure;
  readonly check: string;
  /** What surveys are asked to read to, in the measure's unit: 100 g, 1 mm, 1 mm. */
  readonly resolution: number;
  /** z-scores that say how plausible a candidate is. */
  readonly pair: readonly [IndexId, IndexId];
}

export const roundedMeasures: readonly RoundedMeasure[] = [
  { measure: "weight", check: "weight-digits", resolution: 0.1, pair: ["weight-for-height", "height-for-age"] },
  { measure: "height", check: "height-digits", resolution: 0.1, pair: ["weight-for-height", "height-for-age"] },
  { measure: "arm", check: "arm-digits", resolution: 1, pair: ["arm-for-age", "weight-for-height"] },
];

/** Steps on either side: 9.5 to 10.5 round to 10, and 9.3 to 9.7 to the half 9.5. */
const wholeReach = 5;
const halfReach = 2;

/** Which readings were rounded, and how likely, from the digits of each affected group. */
function roundingOf(values: Float64Array, resolution: number, groups: readonly Uint8Array[]): Rounding {
  const wholeShare = new Float64Array(values.length);
  const halfShare = new Float64Array(values.length);
  for (const group of groups) {
    const counts = new Float64Array(10);
    const digitOf = (i: number): number => {
      const value = values[i] ?? Number.NaN;
      return group[i] === 1 && value > 0 ? Math.round(value / resolution) % 10 : -1;
    };
    for (let i = 0; i < values.length; i++) {
      const digit = digitOf(i);
      if (digit >= 0) counts[digit] = (counts[digit] ?? 0) + 1;
    }
    const whole = counts[0] ?? 0;
    const half = counts[5] ?? 0;
    const others = (counts.reduce((sum, n) => sum + n, 0) - whole - half) / 8;
    const shares = excessShares(whole, half, others);
    for (let i = 0; i < values.length; i++) {
      const digit = digitOf(i);
      if (digit === 0) wholeShare[i] = shares.wholeToWhole;
      if (digit === 0) halfShare[i] = shares.wholeToHalf;
      if (digit === 5) halfShare[i] = shares.halfToHalf;
    }
  }
  return { wholeShare, halfShare, wholeReach, halfReach, halfEndsShared: false };
}

const moved = (values: Float64Array, by: number): Float64Array => values.map((value) => value + by);

/** Log plausibility of every child at every offset, -wholeReach to +wholeReach steps. */
function plausibilityTable(
  children: Children,
  { measure, resolution, pair }: RoundedMeasure,
  values: Float64Array,
  affected: Uint8Array,
  width: number,
): Float64Array[] {
  const density = pairPlausibility(children, pair[0], pair[1], affected);
  return Array.from({ length: 2 * wholeReach + 1 }, (_, k) => {
    const changed = rescore(children, { [measure]: moved(values, (k - wholeReach) * resolution) }, width);
    const first = changed.indices[pair[0]].z;
    const second = changed.indices[pair[1]].z;
    return Float64Array.from(first, (z, i) => density(z, second[i] ?? Number.NaN));
  });
}

/**
 * A draw that puts a heaped measure back into its rounding intervals; null where the check found no heaping. A candidate
 * within the interval is drawn in proportion to how plausible the child's z-scores would then be: a flat draw would add
 * the rounding's variance a second time instead of taking it away.
 */
export function digitDraw(world: World, rounded: RoundedMeasure): Draw | null {
  const column = world.children[rounded.measure];
  const groups = affectedGroups(world, rounded.check);
  if (column === null || groups.length === 0) return null;
  const { values } = column;
  const affected = Uint8Array.from(values, (_, i) => (groups.some((group) => group[i] === 1) ? 1 : 0));
  const rounding = roundingOf(values, rounded.resolution, groups);
  const width = world.settings.exclusions.widthAroundMean;
  const table = plausibilityTable(world.children, rounded, values, affected, width);
  return (random) => {
    const offsets = drawOffsets(rounding, table, wholeReach, random);
    return { [rounded.measure]: values.map((value, i) => value + (offsets[i] ?? 0) * rounded.resolution) };
  };
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
