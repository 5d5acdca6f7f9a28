import { asGiven, quantitative } from "./dot-channels.js";
import { type Layout, size } from "./dot-layout.js";
import type { DotBand, DotPicture } from "./dot-picture.js";
import { textWidth, wrapAtMost } from "./text-width.js";
import { type Spec, theme } from "./theme.js";

const { palette } = theme;

/** Least room between the names of two bands, px. */
const betweenNames = 5;

interface BandName {
  readonly middle: number;
  readonly name: string;
  readonly lines: number;
}

const shownBands = (picture: DotPicture): DotBand[] => {
  const [low, high] = picture.domain;
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
  const scale = layout.plot / (picture.domain[1] - picture.domain[0]);
  const names = bands.map((band) => {
    const word = Math.max(...band.label.split(" ").map((each) => textWidth(each, 11)));
    const width = Math.max((band.to - band.from) * scale - 2, word, bands.length === 1 ? 150 : 0);
    const lines = wrapAtMost(band.label, width, 11, 400, 3);
    return {
      middle: (band.from + band.to) / 2,
      name: lines.join("\n"),
      lines: lines.length,
      width: Math.max(...lines.map((line) => textWidth(line, 11))),
    };
  });
  return apart(names, scale);
}

/** Names of neighbouring narrow bands that would run into each other, moved apart by half each. */
function apart(names: readonly (BandName & { readonly width: number })[], scale: number): BandName[] {
  const moved = names.map((name) => ({ ...name }));
  for (const [i, name] of moved.entries()) {
    const before = moved[i - 1];
    if (before === undefined) continue;
    const between = (name.middle - before.middle) * scale - (name.width + before.width) / 2;
    const shift = Math.max(0, betweenNames - between) / 2 / scale;
    before.middle -= shift;
    name.middle += shift;
  }
  return moved;
}

/** Class bands with their names above the frame. */
export function bandMarks(picture: DotPicture, layout: Layout): Spec[] {
  const bands = shownBands(picture);
  if (bands.length === 0) return [];
  const names = namesOf(picture, layout);
  const lift = Math.max(...names.map((band) => band.lines));
  return [
    {
      data: { values: bands },
      mark: { type: "rect", stroke: palette.paper, strokeWidth: 1 },
      encoding: {
        x: quantitative("from"),
        x2: { field: "to" },
        y: { value: 0 },
        y2: { value: layout.height },
        fill: asGiven("fill"),
      },
    },
    {
      data: { values: names },
      mark: {
        type: "text",
        fontSize: 11,
        lineBreak: "\n",
        lineHeight: 12,
        baseline: "bottom",
        color: palette.ink,
      },
      encoding: {
        x: quantitative("middle"),
        y: { value: -5 - (lift - 1) * 12 },
        text: { field: "name" },
      },
    },
  ];
}

/** A band of its own behind each row that has one, with an upright tick at what is expected. */
export function rowBandMarks(picture: DotPicture, layout: Layout): Spec[] {
  const rows = layout.placed.rows.filter((row) => row.band !== undefined);
  if (rows.length === 0) return [];
  const half = Math.min(8, picture.pitch / 2 - 1.5);
  const bands = rows
    .filter(({ band }) => band?.low !== null || band?.high !== null)
    .map(({ y, band }) => ({
      low: band?.low ?? picture.domain[0],
      high: band?.high ?? picture.domain[1],
      top: y - half,
      bottom: y + half,
    }));
  const ticks = rows
    .filter(({ band }) => typeof band?.expected === "number")
    .map(({ y, band }) => ({ at: band?.expected, top: y - half, bottom: y + half }));
  const upright = { y: quantitative("top"), y2: { field: "bottom" } };
  return [
    {
      data: { values: bands },
      mark: { type: "rect", fill: palette.chance },
      encoding: { x: quantitative("low"), x2: { field: "high" }, ...upright },
    },
    {
      data: { values: ticks },
      mark: { type: "rule", stroke: palette.ink, strokeWidth: 1.4 },
      encoding: { x: quantitative("at"), ...upright },
    },
  ];
}

/** Marked values; names that would run into each other stand one above the other. */
export function lineMarks(picture: DotPicture, layout: Layout): Spec[] {
  if (picture.lines.length === 0) return [];
  const [low, high] = picture.domain;
  const scale = layout.plot / (high - low);
  const bandRoom =
    picture.bands.length > 0 ? 6 + 12 * Math.max(...namesOf(picture, layout).map((band) => band.lines)) : 0;
  const ends: number[] = [];
  const values = [...picture.lines]
    .filter((line) => line.at >= low && line.at <= high)
    .sort((a, b) => a.at - b.at)
    .map((line) => {
      const half = textWidth(line.label, size) / 2;
      const middle = Math.min(
        Math.max((line.at - low) * scale, half - layout.labelWidth),
        theme.width - 20 - layout.labelWidth - half,
      );
      const free = ends.findIndex((end) => end < middle - half - 8);
      const level = free === -1 ? ends.length : free;
      ends[level] = middle + half;
      return {
        at: line.at,
        label: line.label,
        top: -6 - bandRoom - level * 15,
        middle: low + middle / scale,
      };
    });
  return [
    {
      data: { values },
      mark: {
        type: "rule",
        stroke: palette.ink,
        strokeWidth: 1,
        strokeDash: [4, 3],
      },
      encoding: { x: quantitative("at"), y: { value: -3 }, y2: { value: layout.height } },
    },
    {
      data: { values },
      mark: { type: "text", baseline: "bottom", clip: false },
      encoding: {
        x: quantitative("middle"),
        y: { field: "top", type: "quantitative", scale: null },
        text: { field: "label" },
      },
    },
  ];
}
