import { completedMonths } from "../checks/age-heaping/heaping.js";
import { daysPerMonth } from "../derive/age.js";
import type { Children } from "../derive/children.js";
import { usable } from "../derive/exclusions.js";
import { growthTable } from "../derive/growth-standards/growth-table.js";
import { lookUp } from "../derive/growth-standards/look-up.js";
import { message } from "../results/message.js";
import { leastSquares } from "../stats/least-squares.js";
import { affectedGroups } from "./affected.js";
import { changedChildren } from "./changed.js";
import { type Draw, imputed, onceForEachWorld } from "./imputation.js";
import { type Candidates, plausibleOffsets } from "./plausibility.js";
import type { Scenario, ScenarioFile, World } from "./scenario.js";
import { drawOffsets, excessShares, type Rounding } from "./spreading.js";

/** In completed months: 18 to 29 are nearest to two years (24.0 months), 15 to 20 to a year and a half. */
const whole = { from: -6, to: 5, endsShared: false } as const;
const half = { from: -3, to: 2, endsShared: false } as const;

/** Children whose age was written down from a document keep it. */
function mayBeEstimated(children: Children): Uint8Array {
  const how = children.ageKnownHow;
  if (how === null) return new Uint8Array(children.count).fill(1);
  const documented = how.labels.indexOf("documented");
  return Uint8Array.from(how.codes, (code) => (code >= 0 && code === documented ? 0 : 1));
}

/** Mean count over some months of the range. */
function meanCount(counts: Float64Array, isWanted: (month: number) => boolean, from: number, to: number): number {
  let sum = 0;
  let months = 0;
  for (let month = from; month <= to; month++) {
    if (!isWanted(month)) continue;
    sum += counts[month] ?? 0;
    months += 1;
  }
  return months === 0 ? 0 : sum / months;
}

/** Which ages were rounded, and how likely, from the months of each affected group: 6 to 59 months, as the check looks at them. */
function roundingOf(world: World, months: Float64Array, groups: readonly Uint8Array[]): Rounding {
  const { count } = world.children;
  const from = Math.max(6, world.settings.ageRange.from);
  const to = Math.min(59, world.settings.ageRange.to);
  const wholeShare = new Float64Array(count);
  const halfShare = new Float64Array(count);
  const open = mayBeEstimated(world.children);
  for (const group of groups) {
    const counts = new Float64Array(60);
    const own = months.map((month, i) =>
      group[i] === 1 && open[i] === 1 && month >= from && month <= to ? month : Number.NaN,
    );
    for (const month of own) if (!Number.isNaN(month)) counts[month] = (counts[month] ?? 0) + 1;
    const shares = excessShares(
      meanCount(counts, (month) => month % 12 === 0, from, to),
      meanCount(counts, (month) => month % 12 === 6, from, to),
      meanCount(counts, (month) => month % 6 !== 0, from, to),
    );
    own.forEach((month, i) => {
      if (month % 12 === 0) wholeShare[i] = shares.wholeToWhole;
      if (month % 12 === 0) halfShare[i] = shares.wholeToHalf;
      if (month % 12 === 6) halfShare[i] = shares.halfToHalf;
    });
  }
  return { wholeShare, halfShare, whole, half };
}

/** The age of every child at an offset: the middle of that completed month; the recorded age at 0. NaN outside the survey's ages. */
function agesAt({ children, settings }: World, months: Float64Array, offset: number): Float64Array {
  if (offset === 0) return children.ageDays;
  const { from, to } = settings.ageRange;
  return months.map((month) => {
    const moved = month + offset;
    return moved >= from && moved <= to ? (moved + 0.5) * daysPerMonth : Number.NaN;
  });
}

/** Height-for-age falls until about two years and then stays (common knowledge of child growth, no source): its slope until then. */
function slopeUntilTwoYears({ children }: World, rounding: Rounding, kept: Uint8Array): number {
  const rows = [...kept.keys()].filter(
    (i) => kept[i] === 1 && (rounding.wholeShare[i] ?? 0) + (rounding.halfShare[i] ?? 0) === 0,
  );
  if (rows.length < 50) return 0;
  const until = Float64Array.from(rows, (i) => Math.min(24, children.ageMonths[i] ?? Number.NaN));
  const z = Float64Array.from(rows, (i) => children.indices["height-for-age"].z[i] ?? Number.NaN);
  const fit = leastSquares([new Float64Array(rows.length).fill(1), until], z);
  return fit.coefficients[1] ?? 0;
}

/** Log of how fast height-for-age rises with height at an age: -log (M S). NaN where the age cannot be. */
function logRate(sex: number, days: number): number {
  if (Number.isNaN(days)) return Number.NaN;
  const lms = sex === 1 || sex === 2 ? lookUp(growthTable("length-height-for-age"), sex, days) : null;
  return lms === null ? 0 : -Math.log(lms.m * lms.s);
}

function candidatesOf(world: World, months: Float64Array, rounding: Rounding): Candidates {
  const { children } = world;
  const [keep, too] = (["height-for-age", "weight-for-height"] as const).map((id) => usable(children, id, "fixed"));
  const kept = Uint8Array.from({ length: children.count }, (_, i) => (keep?.[i] === 1 && too?.[i] === 1 ? 1 : 0));
  const slope = slopeUntilTwoYears(world, rounding, kept);
  const columns = Array.from({ length: whole.to - whole.from + 1 }, (_, k) => {
    const ageDays = agesAt(world, months, whole.from + k);
    const { indices } = changedChildren(world, { ageDays });
    return {
      first: indices["height-for-age"].z.map((z, i) => z - slope * Math.min(24, (ageDays[i] ?? 0) / daysPerMonth)),
      second: indices["weight-for-height"].z,
      rate: ageDays.map((days, i) => logRate(children.sex[i] ?? 0, days)),
    };
  });
  return {
    from: whole.from,
    first: columns.map((column) => column.first),
    second: columns.map((column) => column.second),
    logRate: columns.map((column) => column.rate),
    kept,
  };
}

/** How far each age moves in one completed data set, in days. */
type Shift = (random: Parameters<Draw>[0]) => Float64Array;

const heapedShift = onceForEachWorld((world): Shift | null => {
  const groups = affectedGroups(world, "age-heaping");
  if (groups.length === 0) return null;
  const { children } = world;
  const months = completedMonths(children);
  const rounding = roundingOf(world, months, groups);
  const table = plausibleOffsets(candidatesOf(world, months, rounding), rounding);
  if (table.rounded.length === 0) return null;
  return (random) => {
    const offsets = drawOffsets(table, children.count, random);
    return children.ageDays.map((days, i) => {
      const offset = offsets[i] ?? 0;
      return offset === 0 ? 0 : ((months[i] ?? 0) + offset + 0.5) * daysPerMonth - days;
    });
  };
});

/** 1 for ages that were given in completed months and stand for the middle of the month. */
function fromCompletedMonths({ children, settings }: World): Uint8Array {
  return Uint8Array.from(children.ageSource, (source, i) => {
    const past = ((children.ageMonths[i] ?? Number.NaN) % 1) - 0.5;
    return settings.ageInMonths === "completed" && source === 2 && Math.abs(past) < 1e-6 ? 1 : 0;
  });
}

function withinMonthShift(world: World): Shift | null {
  const inMonths = fromCompletedMonths(world);
  if (!inMonths.includes(1)) return null;
  return (random) => {
    const days = new Float64Array(inMonths.length);
    for (let i = 0; i < days.length; i++) if (inMonths[i] === 1) days[i] = (random.uniform() - 0.5) * daysPerMonth;
    return days;
  };
}

function drawOf({ children }: World, shifts: readonly Shift[]): Draw | null {
  if (shifts.length === 0) return null;
  return (random) => {
    const ageDays = children.ageDays.slice();
    for (const shift of shifts) {
      const days = shift(random);
      for (let i = 0; i < days.length; i++) ageDays[i] = (ageDays[i] as number) + (days[i] as number);
    }
    return { ageDays };
  };
}

/**
 * A draw that puts heaped ages back into the year or half year they were rounded from; null where the check found no
 * heaping. A candidate age is drawn in proportion to how plausible the child's height would then be for it.
 */
export function heapedAgeDraw(world: World): Draw | null {
  const shift = heapedShift(world);
  return drawOf(world, shift === null ? [] : [shift]);
}

/** A draw that places every age known in completed months anywhere within its month; null where all birth dates are known. */
export function withinMonthDraw(world: World): Draw | null {
  const shift = withinMonthShift(world);
  return drawOf(world, shift === null ? [] : [shift]);
}

function scenarioFor(name: "heaped" | "within-month", draw: Draw): Scenario {
  return {
    id: `ages/${name}`,
    group: "ages",
    label: message(`scenario.ages.${name}`),
    kind: "estimate",
    checks: ["age-heaping"],
    run: (world, random) => imputed(world, [draw], random),
  };
}

/** Rounded ages spread over the year or half year they were rounded from, and ages in whole months over their month. */
export const ages: ScenarioFile = (world) => {
  const heaped = heapedAgeDraw(world);
  const within = withinMonthDraw(world);
  return [
    ...(heaped === null ? [] : [scenarioFor("heaped", heaped)]),
    ...(within === null ? [] : [scenarioFor("within-month", within)]),
  ];
};
