import type { Unit } from "../../results/schema.js";
import type { Words } from "../words.js";

/** Round values along an axis, and how many decimals tell them apart. */
export interface Ticks {
  readonly values: readonly number[];
  /** Decimals as written: of the percentage for a share. */
  readonly decimals: number;
}

/** Steps an axis may go by, as multiples of a power of ten; months go by parts and multiples of a year. */
const steps = [1, 2, 2.5, 5, 10];
const monthSteps = [1, 2, 3, 6, 12, 24];

function stepFor(span: number, count: number, unit: Unit): number {
  const least = span / count;
  const whole = unit === "count" || unit === "day" || unit === "degrees-of-freedom";
  if (unit === "month") return monthSteps.find((step) => step >= least) ?? 12 * Math.ceil(least / 12);
  const power = 10 ** Math.floor(Math.log10(least));
  const fits = steps.filter((step) => !whole || Number.isInteger(step * power));
  return (fits.find((step) => step * power >= least * (1 - 1e-9)) ?? 10) * (whole ? Math.max(power, 0.1) : power);
}

/** Units stored as fractions and written by the hundred. */
const byTheHundred = (unit: Unit): boolean => unit === "share" || unit === "share-difference";

function decimalsOf(step: number): number {
  for (let decimals = 0; decimals < 6; decimals++) {
    if (Math.abs(step * 10 ** decimals - Math.round(step * 10 ** decimals)) < 1e-6) return decimals;
  }
  return 6;
}

/** Multiples of a round step from low to high, about `count` of them. */
export function ticksBetween(low: number, high: number, count: number, unit: Unit): Ticks {
  if (!(high > low))
    return {
      values: [low],
      decimals: decimalsOf(byTheHundred(unit) ? low * 100 : low),
    };
  const step = stepFor(high - low, count, unit);
  const values: number[] = [];
  // Numbers too large to count on by one would never end.
  for (let i = Math.ceil(low / step - 1e-9); i * step <= high + step * 1e-9 && values.length < 1000; i++) {
    values.push(Number((i * step).toPrecision(12)));
  }
  return { values, decimals: decimalsOf(byTheHundred(unit) ? step * 100 : step) };
}

/** The smallest range of round limits that holds all values; `zero` draws 0 into it. */
export function roundRange(values: readonly number[], unit: Unit, zero = false): readonly [number, number] {
  const finite = values.filter((value) => Number.isFinite(value));
  let low = Math.min(...finite, zero ? 0 : Number.POSITIVE_INFINITY);
  let high = Math.max(...finite, zero ? 0 : Number.NEGATIVE_INFINITY);
  if (!Number.isFinite(low) || !Number.isFinite(high)) return [0, 1];
  if (high === low) {
    high += Math.abs(high) * 0.1 || 0.1;
    low -= zero && low === 0 ? 0 : Math.abs(low) * 0.1 || 0.1;
  }
  const step = stepFor(high - low, 8, unit);
  return [
    Number((Math.floor(low / step + 1e-9) * step).toPrecision(12)),
    Number((Math.ceil(high / step - 1e-9) * step).toPrecision(12)),
  ];
}

/** A value marked on an axis, and what is written there. */
export interface AxisTick {
  readonly at: number;
  readonly text: string;
}

/** Round values with their figures as the language writes them. */
export const axisTicks = (ticks: Ticks, unit: Unit, words: Words): AxisTick[] =>
  ticks.values.map((at) => ({ at, text: words.tick(at, unit, ticks.decimals) }));
