import { type Note, note } from "../settings/notes.js";
import type { MeasureRole } from "../settings/roles.js";
import { showValue } from "../settings/show-value.js";
import type { Cells } from "./cells.js";
import type { ReadColumns } from "./read-columns.js";
import { toStandard, type Unit } from "./units.js";

/** A value that stands in far more rows than its neighbours. */
export interface Repeated {
  /** Index of the distinct text. */
  readonly index: number;
  readonly rows: number;
  /** The most rows that one of its neighbours stands in. */
  readonly most: number;
}

/** Rows below which a value does not stand out. */
const fewestRows = 10;
/** How many times the rows of its most frequent neighbour, and how many standard errors of a count above them. */
const [leastTimes, leastErrors] = [2, 5] as const;

/** Which values are neighbours, in the role's standard unit. */
interface Neighbours {
  /** Distance of values with the same last digit: rounding to some last digits lifts all of them alike. */
  readonly spacing: number;
  /** How many of those on each side: no further than the frequencies change little. */
  readonly reach: number;
  /** Multiples of this are left out on both sides: rounding lifts them, and the checks of digits speak of that. */
  readonly round: number;
  /** The step in which a measure is usually written. Values up to three of it away count as well, but for multiples of five of it. */
  readonly step: number;
}

const neighboursOf: Readonly<Record<MeasureRole, Neighbours>> = {
  weight: { spacing: 1, reach: 2, round: 5, step: 0.1 },
  height: { spacing: 1, reach: 5, round: 5, step: 0.1 },
  "arm-circumference": { spacing: 10, reach: 2, round: 5, step: 1 },
  "head-circumference": { spacing: 1, reach: 1, round: 0.5, step: 0.1 },
};

const isMultiple = (value: number, of: number): boolean => Math.abs(value / of - Math.round(value / of)) < 1e-6;

/**
 * Values inside what a child can measure that repeat as a code for 'not measured' would. A value is told when it stands in at
 * least 10 rows, in more than twice as many as the most frequent of its neighbours (for 99.9 cm those from 94.9 to 104.9 with the
 * same last digit and 99.6 to 99.8; for 9.9 kg those from 7.9 to 11.9), and in more than that one's count c + 5 sqrt(c + 1),
 * which a Poisson count seldom is. Own rule; in tests/columns/repeating-codes.test.ts it is tried on columns drawn with and
 * without codes.
 */
export function repeatedValues(role: MeasureRole, cells: Cells, numbers: ArrayLike<number>, unit: Unit): Repeated[] {
  const { spacing, reach, round, step } = neighboursOf[role];
  const standard = cells.values.map((_, index) => toStandard(unit, numbers[index] as number));
  const key = (value: number): string => value.toFixed(4);
  const rowsOf = new Map<string, number>();
  cells.counts.forEach((rows, index) => {
    const value = standard[index] as number;
    if (!Number.isNaN(value) && rows > 0) rowsOf.set(key(value), (rowsOf.get(key(value)) ?? 0) + rows);
  });
  return standard.flatMap((value, index): Repeated[] => {
    if (Number.isNaN(value) || isMultiple(value, round)) return [];
    const rows = rowsOf.get(key(value)) ?? 0;
    let most = 0;
    const look = (beside: number, leftOut: number): void => {
      if (!isMultiple(beside, leftOut)) most = Math.max(most, rowsOf.get(key(beside)) ?? 0);
    };
    for (let k = 1; k <= reach; k++) for (const sign of [-1, 1]) look(value + sign * k * spacing, round);
    for (let k = 1; k <= 3; k++) for (const sign of [-1, 1]) look(value + sign * k * step, 5 * step);
    const limit = Math.max(leastTimes * most, most + leastErrors * Math.sqrt(most + 1));
    return rows >= fewestRows && rows > limit ? [{ index, rows, most }] : [];
  });
}

/** Says which values of the measured columns repeat like a code. */
export function repeatedNotes(columns: ReadColumns): Note[] {
  return [...columns.measures].flatMap(([role, { cells, unit, inside }]) =>
    unit === null
      ? []
      : repeatedValues(role, cells, inside, unit).map(({ index, rows, most }) =>
          note("repeats-like-code", { role, value: showValue(cells.values[index] ?? ""), count: rows, most }),
        ),
  );
}
