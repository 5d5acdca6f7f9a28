import type { Message } from "../../results/schema.js";
import type { Words } from "../words.js";
import { axisOf } from "./axis.js";
import type { DotBand } from "./dot-rows.js";
import type { Spec } from "./figure.js";
import { theme } from "./theme.js";

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
  return [0, Math.min(1, next === undefined ? reach : next * 1.1)];
}

/** An axis with the limits between classes as its ticks, so that they can be read off; round values where there are no classes. */
export function classAxis(bands: readonly Band[], domain: readonly [number, number]): Spec {
  if (bands.length === 0) return axisOf("share", 5);
  const limits = bands.map((band) => band.from).filter((from) => from > 0 && from <= domain[1]);
  // Zero gives way where the first limit stands so close that the two would run together.
  const zero = (limits[0] ?? 1) < domain[1] * 0.07 ? [] : [0];
  return { values: [...zero, ...limits], format: ".1~%", labelOverlap: false };
}
