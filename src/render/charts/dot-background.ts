import { asGiven, quantitative } from "./dot-channels.js";
import { type Layout, size } from "./dot-layout.js";
import type { DotBand, DotPicture } from "./dot-picture.js";
import { textWidth, wrapAtMost } from "./text-width.js";
import { type Spec, theme } from "./theme.js";

const { palette } = theme;

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
  return bands.map((band) => {
    const word = Math.max(...band.label.split(" ").map((each) => textWidth(each, 11)));
    const width = Math.max((band.to - band.from) * scale - 2, word, bands.length === 1 ? 150 : 0);
    const lines = wrapAtMost(band.label, width, 11, 400, 3);
    return {
      middle: (band.from + band.to) / 2,
      name: lines.join("\n"),
      lines: lines.length,
    };
  });
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
