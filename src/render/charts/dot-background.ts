import { type Layout, size } from "./dot-layout.js";
import type { DotBand, DotPicture } from "./dot-picture.js";
import { type Marks, text, upright } from "./picture.js";
import { textWidth, wrapAtMost } from "./text-width.js";
import { theme } from "./theme.js";

const { palette } = theme;

/** Least room between the names of two bands, px. */
const betweenNames = 5;
const nameHeight = 12.5;

interface BandName {
  readonly middle: number;
  readonly name: string;
  readonly lines: number;
}

const shownBands = (picture: DotPicture): DotBand[] => {
  const [low, high] = picture.axis.domain;
  return picture.bands
    .map((band) => ({
      ...band,
      from: Math.max(band.from, low),
      to: Math.min(band.to, high),
    }))
    .filter((band) => band.to > band.from);
};

/** Names over the bands, broken at spaces only; a single band's name may reach beyond it. */
function namesOf(picture: DotPicture, layout: Layout): BandName[] {
  const bands = shownBands(picture);
  const names = bands.map((band) => {
    const [from, to] = [layout.along(band.from), layout.along(band.to)];
    const word = Math.max(...band.label.split(" ").map((each) => textWidth(each, size)));
    const width = Math.max(to - from - 2, word, bands.length === 1 ? 150 : 0);
    const lines = wrapAtMost(band.label, width, size, 400, 3);
    return {
      middle: (from + to) / 2,
      name: lines.join("\n"),
      lines: lines.length,
      width: Math.max(...lines.map((line) => textWidth(line, size))),
    };
  });
  return apart(names);
}

/** Names of neighbouring narrow bands that would run into each other, moved apart by half each. */
function apart(names: readonly (BandName & { readonly width: number })[]): BandName[] {
  const moved = names.map((name) => ({ ...name }));
  for (const [i, name] of moved.entries()) {
    const before = moved[i - 1];
    if (before === undefined) continue;
    const between = name.middle - before.middle - (name.width + before.width) / 2;
    const shift = Math.max(0, betweenNames - between) / 2;
    before.middle -= shift;
    name.middle += shift;
  }
  return moved;
}

/** Class bands with their names above the frame. */
export function bandMarks(picture: DotPicture, layout: Layout): Partial<Marks> {
  const boxes = shownBands(picture).map(({ from, to, fill }) => ({
    ...{ x: layout.along(from), x2: layout.along(to), y: 0, y2: layout.height },
    ...{ fill, stroke: palette.paper, width: 1 },
  }));
  const style = { align: "center", baseline: "bottom", lineHeight: nameHeight } as const;
  return { boxes, texts: namesOf(picture, layout).map(({ middle, name }) => text(middle, -4, name, style)) };
}

/** A band of its own behind each row that has one, with an upright tick at what is expected. */
export function rowBandMarks(picture: DotPicture, layout: Layout): Partial<Marks> {
  const half = Math.min(8, picture.pitch / 2 - 1.5);
  const [first, last] = picture.axis.domain;
  const rows = layout.placed.rows.flatMap(({ y, band }) => (band === undefined ? [] : [{ y, band }]));
  return {
    boxes: rows
      .filter(({ band }) => band.low !== null || band.high !== null)
      .map(({ y, band }) => ({
        ...{ x: layout.along(band.low ?? first), x2: layout.along(band.high ?? last), y: y - half, y2: y + half },
        ...{ fill: palette.chance, stroke: null, width: 0 },
      })),
    rules: rows.flatMap(({ y, band }) =>
      band.expected === null ? [] : [upright(layout.along(band.expected), y - half, y + half, palette.ink, 1.4)],
    ),
  };
}

/** Marked values; names that would run into each other stand one above the other. */
export function lineMarks(picture: DotPicture, layout: Layout): Partial<Marks> {
  const [low, high] = picture.axis.domain;
  const bandLines = Math.max(0, ...namesOf(picture, layout).map((band) => band.lines));
  const bandRoom = bandLines > 0 ? 6 + nameHeight * bandLines : 0;
  // The headings of the columns stand at the height of the lowest names, unless bands have lifted these.
  const columnsFrom = bandRoom > 0 || picture.headed === false ? undefined : layout.columns[0];
  const ends: number[] = [];
  const lines = [...picture.lines].filter((line) => line.at >= low && line.at <= high).sort((a, b) => a.at - b.at);
  const names = lines.map((line) => {
    const half = textWidth(line.label, size) / 2;
    const middle = Math.min(
      Math.max(layout.along(line.at), half - layout.labelWidth),
      theme.width - 20 - layout.labelWidth - half,
    );
    let level = columnsFrom !== undefined && middle + half > columnsFrom - 8 ? 1 : 0;
    while ((ends[level] ?? Number.NEGATIVE_INFINITY) >= middle - half - 8) level += 1;
    ends[level] = middle + half;
    return text(middle, -6 - bandRoom - level * 15, line.label, { align: "center", baseline: "bottom" });
  });
  return {
    rules: lines.map((line) => upright(layout.along(line.at), -3, layout.height, palette.ink, 1, [4, 3])),
    texts: names,
  };
}
