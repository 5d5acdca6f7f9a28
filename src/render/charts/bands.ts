import type { Message } from "../../results/schema.js";
import type { Words } from "../words.js";
import { type Axis, axisFor } from "./axes.js";
import type { DotBand } from "./dot-rows.js";
import { theme } from "./theme.js";
import { type AxisTick, roundRange } from "./ticks.js";

interface Band {
  readonly from: number;
  readonly to: number;
  readonly label: Message;
}

/** Published classes as light greys, the lowest lightest. */
export function classBands(bands: readonly Band[], words: Words): DotBand[] {
  return bands.map((band, i) => ({
    from: band.from,
    to: band.to,
    label: words.text(band.label),
    fill: theme.palette.bands[Math.min(i, theme.palette.bands.length - 1)] ?? theme.palette.chance,
  }));
}

/** From zero to the largest interval, and a little into the class above it. */
export function prevalenceDomain(
  bands: readonly Band[],
  values: readonly (number | null)[],
): readonly [number, number] {
  const present = values.filter((value): value is number => value !== null);
  const reach = Math.max(0.01, ...present) * 1.05;
  const limits = bands.map((band) => band.from).filter((from) => from > 0);
  const last = limits[limits.length - 1];
  // Show where the highest class begins, unless everything lies so far below that it would press the rest together.
  if (last !== undefined && last <= reach * 4) return [0, Math.min(1, Math.max(reach, last * 1.3))];
  const next = limits.find((limit) => limit > reach);
  return [0, Math.min(1, next === undefined ? roundRange([0, reach], "share", true)[1] : next * 1.1)];
}

/** An axis with the limits between classes as its ticks, so that they can be read off; round values where there are no classes. */
export function classAxis(
  bands: readonly Band[],
  domain: readonly [number, number],
  title: string,
  words: Words,
): Axis {
  if (bands.length === 0) return axisFor(domain, 5, "share", title, words);
  return { domain, ticks: limitTicks(bands, domain, words), title };
}

function limitTicks(bands: readonly Band[], domain: readonly [number, number], words: Words): AxisTick[] {
  const limits = [0, ...bands.map((band) => band.from).filter((from) => from > 0 && from <= domain[1])];
  const narrow = domain[1] * 0.07;
  // Zero gives way where the first limit stands so close that the two would run together.
  const hidden = (limits[1] ?? 1) < narrow;
  return limits.map((at, i) => ({ at, text: i === 0 && hidden ? "" : limitText(at, words) }));
}

function limitText(limit: number, words: Words): string {
  const whole = Number.isInteger(Math.round(limit * 1e6) / 1e4);
  return words.tick(limit, "share", whole ? 0 : 1);
}
