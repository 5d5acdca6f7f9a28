import type { Unit } from "../../results/schema.js";
import type { Spec } from "./figure.js";
import { wrapText } from "./text-width.js";

/** Steps that months are counted by. */
const monthSteps = [1, 2, 3, 6, 12, 24];

/** Multiples of so many months from low to high, about a dozen. */
function monthsBetween(low: number, high: number, most: number): number[] {
  const step = monthSteps.find((each) => (high - low) / each <= most) ?? 12 * Math.ceil((high - low) / 12 / most);
  const first = Math.ceil(low / step);
  const count = Math.min(Math.floor(high / step) - first + 1, 100);
  return Array.from({ length: Math.max(count, 0) }, (_, i) => (first + i) * step);
}

/** How the figures of an axis are written: by the language's own marks, shares by the hundred, differences with their sign. */
export function figuresIn(unit: Unit): Spec {
  switch (unit) {
    case "share":
      return { format: "%" };
    case "share-difference":
      return { labelExpr: "(datum.value > 0 ? '+' : '') + format(datum.value * 100, ',.2~f')" };
    case "count":
    case "day":
    case "degrees-of-freedom":
      return { format: ",~f", tickMinStep: 1 };
    default:
      return {};
  }
}

/** An axis of values in this unit with about so many ticks; months by whole steps where their range is given. */
export function axisOf(unit: Unit, ticks: number, months?: readonly [number, number]): Spec {
  const values = unit === "month" && months !== undefined ? { values: monthsBetween(...months, ticks) } : {};
  return { ...figuresIn(unit), tickCount: ticks, ...values };
}

/** The name of an axis in lines as wide as there is room; null where it has none. */
export const axisTitle = (name: string, width: number): readonly string[] | null =>
  name === "" ? null : wrapText(name, width, 12);

/** The range of some values with a little room at both ends, so that no point stands on the edge. */
export function roomyRange(values: readonly number[]): readonly [number, number] {
  const finite = values.filter(Number.isFinite);
  const low = Math.min(...finite);
  const high = Math.max(...finite);
  if (!(high >= low)) return [0, 1];
  const room = (high - low) * 0.03 || 0.5;
  return [low - room, high + room];
}

/** The smallest range of round limits that holds all values, and 0 where asked for. */
export function roundRange(values: readonly (number | null)[], zero = false): readonly [number, number] {
  const finite = values.filter((value): value is number => value !== null && Number.isFinite(value));
  const low = Math.min(...finite, ...(zero ? [0] : []));
  const high = Math.max(...finite, ...(zero ? [0] : []));
  if (!(high >= low)) return [0, 1];
  const span = high - low || Math.abs(high) * 0.2 || 0.2;
  const power = 10 ** Math.floor(Math.log10(span / 8));
  const step = power * ([1, 2, 5].find((each) => each * power >= span / 8) ?? 10);
  const round = (steps: number): number => Number((steps * step).toPrecision(12));
  const [first, last] = [Math.floor(low / step + 1e-9), Math.ceil(high / step - 1e-9)];
  return first === last ? [round(zero ? first : first - 1), round(last + 1)] : [round(first), round(last)];
}
