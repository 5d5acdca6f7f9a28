import { calendarShares } from "../../checks/age-heaping/birth-days.js";
import { dayOfMonth } from "../../checks/age-heaping/heaping.js";
import { daysPerMonth } from "../../derive/age.js";
import { usable } from "../../derive/exclusions.js";
import { growthTable } from "../../derive/growth-standards/growth-table.js";
import { lookUp } from "../../derive/growth-standards/look-up.js";
import { message } from "../../results/message.js";
import { changedChildren } from "../changed.js";
import { type Candidates, plausibleOffsets } from "../plausibility.js";
import type { World } from "../scenario.js";
import { drawOffsets, type OffsetTable } from "../spreading.js";
import { columnIn, type Repair, type RepairFile } from "./repair.js";

/** A pile is put right where it is beyond this many standard deviations of chance, over days and months alike. */
const clearly = 5;
const monthsOfYear = 12;
/** In months, from the recorded month: every month of the calendar year of birth. */
const reach = 11;

const monthOf = (day: number): number => new Date(day * 86_400_000).getUTCMonth() + 1;

/** Births on one day of the month beyond the calendar's share, as a share of those on it; 0 where chance could give them. */
export function excessOn(count: number, n: number, share: number): number {
  const expected = n * share;
  if (!(count > 0) || count - expected < clearly * Math.sqrt(expected * (1 - share))) return 0;
  return (count - expected) / count;
}

/** Children whose date of birth stands on a pile, and how likely each was put there. */
interface Piles {
  /** Day and month both put: the day and month of birth are not known, the year is. */
  readonly year: Float64Array;
  /** Only the day put: known to the month. */
  readonly month: Float64Array;
  /** Month of birth as recorded, 1 to 12. */
  readonly recorded: Uint8Array;
}

function pilesOf(world: World): Piles | null {
  const { birthDay, ageSource, count } = world.children;
  if (birthDay === null) return null;
  const dated = [...birthDay.keys()].filter((i) => ageSource[i] === 1 && !Number.isNaN(birthDay[i]));
  const days = new Float64Array(32);
  for (const i of dated) days[dayOfMonth(birthDay[i] as number)] = (days[dayOfMonth(birthDay[i] as number)] ?? 0) + 1;
  const year = new Float64Array(count);
  const month = new Float64Array(count);
  const recorded = new Uint8Array(count);
  let any = false;
  for (let day = 1; day <= 31; day++) {
    const ofDay = excessOn(days[day] ?? 0, dated.length, calendarShares[day - 1] ?? 0);
    if (ofDay === 0) continue;
    any = true;
    const own = dated.filter((i) => dayOfMonth(birthDay[i] as number) === day);
    const months = new Float64Array(monthsOfYear + 1);
    for (const i of own) months[monthOf(birthDay[i] as number)] = (months[monthOf(birthDay[i] as number)] ?? 0) + 1;
    // A month is held against what the calendar gives that one day in it: of all births.
    const expected = (calendarShares[day - 1] ?? 0) / monthsOfYear;
    // The others of the day are spread over all months: what is beyond them was put into this month too.
    const typical = [...months].slice(1).sort((a, b) => a - b)[Math.floor(monthsOfYear / 2)] ?? 0;
    for (const i of own) {
      const at = monthOf(birthDay[i] as number);
      recorded[i] = at;
      const here = months[at] ?? 0;
      const base = Math.max(typical, dated.length * expected);
      const putInMonth = here - base > clearly * Math.sqrt(base) ? (here - base) / here : 0;
      year[i] = putInMonth;
      const left = Math.max(0, here * (1 - putInMonth) - dated.length * expected);
      month[i] = Math.min(1 - putInMonth, left / here);
    }
  }
  return any ? { year, month, recorded } : null;
}

/** How plausible each month of the year of birth is by the child's height, as for rounded ages. */
function monthTable(world: World, piles: Piles): OffsetTable {
  const { children, settings } = world;
  const { from, to } = settings.ageRange;
  const offsets = Array.from({ length: 2 * reach + 1 }, (_, k) => k - reach);
  const kept = usable(children, "height-for-age", "fixed");
  const columns = offsets.map((offset) => {
    const ageDays = children.ageDays.map((days, i) => {
      const month = (piles.recorded[i] ?? 0) + offset;
      const moved = days - offset * daysPerMonth;
      const months = moved / daysPerMonth;
      const possible = offset === 0 || (month >= 1 && month <= monthsOfYear && months >= from && months < to + 1);
      return (piles.year[i] ?? 0) > 0 && possible ? moved : offset === 0 ? days : Number.NaN;
    });
    const { indices } = changedChildren(world, { ageDays });
    const rate = ageDays.map((days, i) => {
      if (Number.isNaN(days)) return Number.NaN;
      const sex = children.sex[i] ?? 0;
      const lms = sex === 1 || sex === 2 ? lookUp(growthTable("length-height-for-age"), sex, days) : null;
      return lms === null ? 0 : -Math.log(lms.m * lms.s);
    });
    return { first: indices["height-for-age"].z, second: indices["weight-for-height"].z, rate };
  });
  const candidates: Candidates = {
    from: -reach,
    first: columns.map(({ first }) => first),
    second: columns.map(({ second }) => second),
    logRate: columns.map(({ rate }) => rate),
    kept,
  };
  return plausibleOffsets(candidates, {
    wholeShare: piles.year,
    halfShare: new Float64Array(children.count),
    whole: { from: -reach, to: reach, endsShared: false },
    half: { from: 0, to: 0, endsShared: false },
  });
}

/**
 * Births piled on one day of the month, or on one day of the year: where a day holds clearly more births than the calendar
 * gives it, so many of them as are beyond it are spread over the month, and those that are beyond the other months of that
 * day over the year of birth, each month as likely as the child's height makes it.
 */
export const birthDates: RepairFile = (world): readonly Repair[] => {
  const piles = pilesOf(world);
  if (piles === null) return [];
  const { children } = world;
  const table = piles.year.some((share) => share > 0) ? monthTable(world, piles) : null;
  return [
    {
      id: "ages/birth-dates",
      label: message("repair.birth-dates"),
      checks: ["age-heaping"],
      team: null,
      touched: Uint8Array.from(piles.year, (share, i) => (share + (piles.month[i] ?? 0) > 0 ? 1 : 0)),
      apply: (drawn, _, random) => {
        const column = columnIn(world, drawn, "ageDays");
        if (column === null) return;
        const offsets = table === null ? null : drawOffsets(table, children.count, random);
        const ageDays = column.map((days, i) => {
          const offset = offsets?.[i] ?? 0;
          if (offset !== 0) return days - offset * daysPerMonth + (random.uniform() - 0.5) * daysPerMonth;
          if ((piles.month[i] ?? 0) === 0) return days;
          const put = random.uniform() < (piles.month[i] ?? 0);
          const within = random.uniform();
          const day = dayOfMonth(children.birthDay?.[i] ?? 1);
          return put ? days + (day - 1) - within * daysPerMonth : days;
        });
        drawn.columns = { ...drawn.columns, ageDays: ageDays.map((days) => Math.max(0, days)) };
      },
    },
  ];
};
