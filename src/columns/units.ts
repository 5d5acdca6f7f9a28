import type { MeasureRole } from "../settings/roles.js";

/** A unit that a measurement may be written in. */
export interface Unit {
  readonly id: "kg" | "g" | "cm" | "mm" | "m";
  /** A value in this unit in the standard unit is value * times / over. */
  readonly times: number;
  readonly over: number;
  /** Values that a child under five can have in this unit, generously: the ranges of one role's units do not overlap. */
  readonly low: number;
  readonly high: number;
}

/**
 * Units by role, the standard one first. The ranges are wider than any child of 0 to 59 months measures (the growth standards'
 * tables run from 45 to 120 cm and their +-4 SD curves from about 1.5 to 32 kg): they tell units apart, they do not
 * judge a value. From memory of the size of children; no published source.
 */
export const unitsOf: Readonly<Record<MeasureRole, readonly Unit[]>> = {
  weight: [
    { id: "kg", times: 1, over: 1, low: 0.5, high: 60 },
    { id: "g", times: 1, over: 1000, low: 500, high: 60_000 },
  ],
  height: [
    { id: "cm", times: 1, over: 1, low: 30, high: 150 },
    { id: "mm", times: 1, over: 10, low: 300, high: 1500 },
    { id: "m", times: 100, over: 1, low: 0.3, high: 1.5 },
  ],
  "arm-circumference": [
    { id: "mm", times: 1, over: 1, low: 60, high: 300 },
    { id: "cm", times: 10, over: 1, low: 6, high: 30 },
  ],
  "head-circumference": [
    { id: "cm", times: 1, over: 1, low: 20, high: 65 },
    { id: "mm", times: 1, over: 10, low: 200, high: 650 },
  ],
};

/** True where a value can be a child's measure in this unit. */
export function fits(unit: Unit, value: number): boolean {
  return value >= unit.low && value <= unit.high;
}

/** A value in the standard unit, without the noise of binary fractions: 1.034 m is 103.4 cm. */
export function toStandard(unit: Unit, value: number): number {
  return unit.times === 1 ? value / unit.over : Number((value * unit.times).toFixed(6));
}
