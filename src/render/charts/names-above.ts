import type { DotFigure } from "./dot-rows.js";
import type { Row } from "./figure.js";
import { textWidth, wrapAtMost } from "./text-width.js";
import { theme } from "./theme.js";

const size = 12;
const nameHeight = 12.5;
/** Least room between the names of two bands, px. */
const betweenNames = 5;

/** Where a value stands in a frame so wide, px. */
const placeIn = ({ domain }: DotFigure, plot: number, value: number): number =>
  (plot * (value - domain[0])) / (domain[1] - domain[0]);

/** Bands as far as the frame shows them, each with its name in lines and how far it is shifted to clear its neighbours, px. */
export function bandNames(figure: DotFigure, plot: number): Row[] {
  const [low, high] = figure.domain;
  const shown = figure.bands
    .map((band) => ({ ...band, from: Math.max(band.from, low), to: Math.min(band.to, high) }))
    .filter((band) => band.to > band.from);
  const named = shown.map((band) => {
    const [from, to] = [placeIn(figure, plot, band.from), placeIn(figure, plot, band.to)];
    const word = Math.max(...band.label.split(" ").map((each) => textWidth(each, size)));
    const lines = wrapAtMost(band.label, Math.max(to - from - 2, word, shown.length === 1 ? 150 : 0), size, 400, 3);
    const width = Math.max(...lines.map((line) => textWidth(line, size)));
    return { ...band, lines, width, centre: (from + to) / 2, shift: 0 };
  });
  // Names of neighbouring narrow bands that would run into each other move apart by half each.
  for (const [i, name] of named.entries()) {
    const before = named[i - 1];
    if (before === undefined) continue;
    const between = name.centre + name.shift - before.centre - before.shift - (name.width + before.width) / 2;
    const shift = Math.max(0, betweenNames - between) / 2;
    before.shift -= shift;
    name.shift += shift;
  }
  return named.map(({ from, to, fill, lines, shift }) => ({
    ...{ from, to, fill, shift, middle: (from + to) / 2, name: lines.join("\n") },
  }));
}

/** Marked values with names; those that would run into each other, or into the headings of the columns, are lifted. */
export function lineNames(
  figure: DotFigure,
  layout: { readonly plot: number; readonly labelWidth: number },
  bands: readonly Row[],
): Row[] {
  const { plot, labelWidth } = layout;
  const bandLines = Math.max(0, ...bands.map((band) => String(band.name).split("\n").length));
  const bandRoom = bandLines > 0 ? 6 + nameHeight * bandLines : 0;
  const clearOfColumns = bandRoom > 0 || figure.headed === false ? Number.POSITIVE_INFINITY : plot;
  const ends: number[] = [];
  return figure.lines
    .filter((line) => line.at >= figure.domain[0] && line.at <= figure.domain[1])
    .sort((a, b) => a.at - b.at)
    .map(({ at, label }) => {
      const place = placeIn(figure, plot, at);
      const half = textWidth(label, size) / 2;
      const middle = Math.min(Math.max(place, half - labelWidth), theme.width - 20 - labelWidth - half);
      let level = middle + half > clearOfColumns ? 1 : 0;
      while ((ends[level] ?? Number.NEGATIVE_INFINITY) >= middle - half - 8) level += 1;
      ends[level] = middle + half;
      return { at, name: label, shift: middle - place, lift: -bandRoom - level * 15 };
    });
}
