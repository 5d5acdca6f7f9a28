import type { Words } from "../words.js";
import { textWidth } from "./text-width.js";

const dayLength = 86_400_000;
/** Months between the ticks of a calendar axis. */
const monthSteps = [1, 2, 3, 6, 12, 24, 60, 120];

/** Days since 1970-01-01 of an ISO day, by universal time; NaN for what is no day. */
export function dayNumber(iso: string): number {
  return Date.parse(`${iso}T00:00:00Z`) / dayLength;
}

export interface CalendarTick {
  /** Day number of the first of a month. */
  readonly at: number;
  /** The month, and below it the year where it begins to differ. */
  readonly lines: readonly string[];
}

/** Firsts of months between two day numbers, as close together as their names leave room for. */
export function calendarTicks(low: number, high: number, width: number, words: Words): CalendarTick[] {
  const start = new Date(low * dayLength);
  const first = start.getUTCFullYear() * 12 + start.getUTCMonth();
  const end = new Date(high * dayLength);
  const last = end.getUTCFullYear() * 12 + end.getUTCMonth();
  const wide = Math.max(
    ...Array.from({ length: 12 }, (_, month) => textWidth(words.month(isoOf(24_000 + month)), 12)),
    textWidth("2000", 12),
  );
  const room = Math.max(1, Math.floor(width / (wide + 10)));
  const step = monthSteps.find((months) => (last - first) / months <= room) ?? 120;
  const ticks: CalendarTick[] = [];
  for (let month = Math.ceil(first / step) * step; month <= last; month += step) {
    const at = dayNumber(isoOf(month));
    if (at >= low && at <= high) ticks.push({ at, lines: linesOf(month, step, ticks.length === 0, words) });
  }
  return ticks;
}

function linesOf(month: number, step: number, isFirst: boolean, words: Words): string[] {
  const year = String(Math.floor(month / 12));
  if (step >= 12) return [year];
  return isFirst || month % 12 < step ? [words.month(isoOf(month)), year] : [words.month(isoOf(month))];
}

/** First day of a month counted from year 0. */
function isoOf(month: number): string {
  return `${String(Math.floor(month / 12)).padStart(4, "0")}-${String((month % 12) + 1).padStart(2, "0")}-01`;
}
