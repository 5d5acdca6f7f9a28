import { daysPerMonth } from "../derive/age.js";
import type { Children } from "../derive/children.js";
import { rescore } from "../derive/rescore.js";
import { message } from "../results/message.js";
import { affectedGroups } from "./affected.js";
import { type Draw, imputed } from "./imputation.js";
import { pairPlausibility } from "./plausibility.js";
import type { Scenario, ScenarioFile, World } from "./scenario.js";
import { drawOffsets, excessShares, type Rounding } from "./spreading.js";

/** Candidates are whole months; a year reaches six months on either side, half a year three. */
const wholeReach = 6;
const halfReach = 3;

const completed = (months: number): number => Math.floor(months + 1e-9);

/** Children whose age was written down from a document keep it. */
function mayBeEstimated(children: Children): Uint8Array {
  const how = children.ageKnownHow;
  if (how === null) return new Uint8Array(children.count).fill(1);
  const documented = how.labels.map((label) => /^document/i.test(label));
  return Uint8Array.from(how.codes, (code) => (documented[code] === true ? 0 : 1));
}

/** Which ages were rounded, and how likely, from the months of each affected group: 6 to 59 months, as the check looks at them. */
function roundingOf(children: Children, groups: readonly Uint8Array[]): Rounding {
  const wholeShare = new Float64Array(children.count);
  const halfShare = new Float64Array(children.count);
  const open = mayBeEstimated(children);
  for (const group of groups) {
    const counts = new Float64Array(60);
    const monthOf = (i: number): number => {
      const months = children.ageMonths[i] ?? Number.NaN;
      return group[i] === 1 && open[i] === 1 && months >= 6 && months < 60 ? completed(months) : -1;
    };
    for (let i = 0; i < children.count; i++) {
      const month = monthOf(i);
      if (month >= 0) counts[month] = (counts[month] ?? 0) + 1;
    }
    const total = counts.reduce((sum, n) => sum + n, 0);
    const wholeSum = [12, 24, 36, 48].reduce((sum, month) => sum + (counts[month] ?? 0), 0);
    const halfSum = [6, 18, 30, 42, 54].reduce((sum, month) => sum + (counts[month] ?? 0), 0);
    const shares = excessShares(wholeSum / 4, halfSum / 5, (total - wholeSum - halfSum) / 45);
    for (let i = 0; i < children.count; i++) {
      const month = monthOf(i);
      if (month < 0 || month % 6 !== 0) continue;
      if (month % 12 === 0) wholeShare[i] = shares.wholeToWhole;
      halfShare[i] = month % 12 === 0 ? shares.wholeToHalf : shares.halfToHalf;
    }
  }
  return { wholeShare, halfShare, wholeReach, halfReach, halfEndsShared: true };
}

/** Ages moved by a number of days, kept inside the survey's age range. */
function shifted(world: World, days: (child: number) => number): Float64Array {
  const { from, to } = world.settings.ageRange;
  const lowest = from * daysPerMonth;
  const highest = (to + 1) * daysPerMonth - 1;
  return world.children.ageDays.map((age, i) =>
    Number.isNaN(age) ? age : Math.min(highest, Math.max(lowest, age + days(i))),
  );
}

/**
 * A draw that puts heaped ages back into the year or half year they were rounded from; null where the check found no
 * heaping. A candidate age is drawn in proportion to how plausible the child's height-for-age would then be.
 */
export function heapedAgeDraw(world: World): Draw | null {
  const groups = affectedGroups(world, "age-heaping");
  if (groups.length === 0) return null;
  const { children } = world;
  const affected = Uint8Array.from(children.sex, (_, i) => (groups.some((group) => group[i] === 1) ? 1 : 0));
  const density = pairPlausibility(children, "height-for-age", "weight-for-age", affected);
  const width = world.settings.exclusions.widthAroundMean;
  const table = Array.from({ length: 2 * wholeReach + 1 }, (_, k) => {
    const ageDays = shifted(world, () => (k - wholeReach) * daysPerMonth);
    const changed = rescore(children, { ageDays }, width);
    const weightForAge = changed.indices["weight-for-age"].z;
    return Float64Array.from(changed.indices["height-for-age"].z, (z, i) => density(z, weightForAge[i] ?? Number.NaN));
  });
  const rounding = roundingOf(children, groups);
  return (random) => {
    const offsets = drawOffsets(rounding, table, wholeReach, random);
    return { ageDays: shifted(world, (i) => (offsets[i] ?? 0) * daysPerMonth) };
  };
}

/** Rounded and whole-month ages drawn in one go; null where there is neither. */
export function ageDraw(world: World): Draw | null {
  const heaped = heapedAgeDraw(world);
  const within = withinMonthDraw(world);
  if (heaped === null || within === null) return heaped ?? within;
  return (random) => {
    const first = heaped(random).ageDays;
    const second = within(random).ageDays;
    return {
      ageDays: shifted(world, (i) => (first?.[i] ?? 0) + (second?.[i] ?? 0) - 2 * (world.children.ageDays[i] ?? 0)),
    };
  };
}

/** A draw that places every age known in completed months anywhere within its month; null where all birth dates are known. */
export function withinMonthDraw(world: World): Draw | null {
  const fromMonths = world.children.ageSource.map((source) => (source === 2 ? 1 : 0));
  if (world.settings.ageInMonths !== "completed" || !fromMonths.includes(1)) return null;
  return (random) => ({
    ageDays: shifted(world, (i) => (fromMonths[i] === 1 ? (random.uniform() - 0.5) * daysPerMonth : 0)),
  });
}

function scenarioFor(name: string, draw: Draw): Scenario {
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
