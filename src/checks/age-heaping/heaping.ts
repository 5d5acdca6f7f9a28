import type { Children } from "../../derive/children.js";
import { myersBlended } from "../../stats/myers.js";
import { quantile } from "../../stats/quantile.js";
import { randomStream } from "../../stats/random.js";

/** Day, month and year of a day counted from 1970-01-01 (UTC). */
function calendar(day: number): { readonly day: number; readonly month: number; readonly year: number } {
  const date = new Date(day * 86_400_000);
  return { day: date.getUTCDate(), month: date.getUTCMonth(), year: date.getUTCFullYear() };
}

/** Day of the month (1 to 31) of a day counted from 1970-01-01; NaN where missing. */
export function dayOfMonth(day: number): number {
  return Number.isNaN(day) ? Number.NaN : calendar(day).day;
}

/**
 * Completed months of age. From two dates they are counted by the calendar, as people do: a birth date put exactly two
 * years before the visit makes 24 months, which division by 30.4375 days would split between 23 and 24. From an age in
 * months they are cut off. NaN where the age is unknown.
 */
export function completedMonths({ count, ageSource, ageMonths, birthDay, interviewDay }: Children): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => {
    const born = birthDay?.[i] ?? Number.NaN;
    const seen = interviewDay?.[i] ?? Number.NaN;
    if (ageSource[i] !== 1 || Number.isNaN(born) || Number.isNaN(seen)) return Math.floor(ageMonths[i] as number);
    const from = calendar(born);
    const to = calendar(seen);
    return 12 * (to.year - from.year) + to.month - from.month - (to.day < from.day ? 1 : 0);
  });
}

/** Months that may attract ages, and the months around them that tell how many children to expect there. */
export interface Window {
  /** Months from one multiple to the next. */
  readonly step: number;
  /** 1 for a multiple within the range. */
  readonly isMultiple: Uint8Array;
  /** 1 for a multiple and its neighbours, by month 0 to 59. */
  readonly inWindow: Uint8Array;
  /** Multiples as a share of the months of the window: what is expected without heaping. */
  readonly expected: number;
  readonly multiples: number;
}

/**
 * Multiples of `step` months from 6 to 59 with `reach` months on either side, within the survey's ages. Comparing a
 * month with its own neighbours needs no assumption about how many children there are of each age.
 */
export function windowOf(step: number, reach: number, from: number, to: number): Window {
  const isMultiple = new Uint8Array(60);
  const inWindow = new Uint8Array(60);
  for (let month = step; month < 60; month += step) {
    if (month < Math.max(6, from) || month > to) continue;
    isMultiple[month] = 1;
    for (let near = Math.max(from, month - reach); near <= Math.min(to, 59, month + reach); near++) inWindow[near] = 1;
  }
  const multiples = isMultiple.reduce((sum, is) => sum + is, 0);
  const months = inWindow.reduce((sum, is) => sum + is, 0);
  return { step, isMultiple, inWindow, expected: months === 0 ? Number.NaN : multiples / months, multiples };
}

/** Marks children whose month has a mark. */
export function markChildren(months: Float64Array, marks: Uint8Array): Uint8Array {
  const marked = new Uint8Array(months.length);
  for (let i = 0; i < months.length; i++) {
    const month = months[i] as number;
    if (month >= 0 && month < 60) marked[i] = marks[month] as number;
  }
  return marked;
}

/** Children on the multiples beyond what their neighbours lead to expect, as a count; below 0 when there are too few. */
export function excessOf(cases: number, window: number, expected: number): number {
  return cases - ((window - cases) * expected) / (1 - expected);
}

/** Myers' blended index of the last digit of ages 10-59 months, and what chance alone gives. */
export interface MyersOfMonths {
  readonly n: number;
  readonly index: number;
  readonly chance: { readonly expected: number; readonly low: number; readonly high: number };
}

const simulations = 200;
/** Above this many children the index by chance shrinks as 1 / sqrt(n), so that it needs no simulation of its own. */
const simulatedAtMost = 500;

/** Blended index over 10-49 and 20-59 months (four terms each), 0 to 90; chance by simulation of even ages with the seed. */
export function myersOfMonths(months: Float64Array, seed: number): MyersOfMonths {
  const { n, index } = myersBlended(months, 10, 4);
  if (n === 0) return { n, index: Number.NaN, chance: { expected: Number.NaN, low: Number.NaN, high: Number.NaN } };
  const size = Math.min(n, simulatedAtMost);
  const stream = randomStream(seed);
  const scale = Math.sqrt(size / n);
  const drawn = Float64Array.from({ length: simulations }, () => {
    const ages = Float64Array.from({ length: size }, () => 10 + stream.below(50));
    return myersBlended(ages, 10, 4).index * scale;
  });
  const expected = drawn.reduce((sum, value) => sum + value, 0) / simulations;
  return { n, index, chance: { expected, low: quantile(drawn, 0.025), high: quantile(drawn, 0.975) } };
}
