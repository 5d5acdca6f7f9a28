import type { Message, Reading } from "../../results/schema.js";
import type { Words } from "../words.js";
import { type Axis, acrossAxis, gridLines, labelRoom, overhang, titleRoom, uprightAxis, uprightRoom } from "./axes.js";
import { type Frame, type Marks, type Picture, text, together } from "./picture.js";
import { wrapAtMost } from "./text-width.js";
import { theme } from "./theme.js";

const { palette } = theme;

/** Where small frames of one chart stand: how many side by side, and how large each is. */
export interface PanelGrid {
  readonly columns: number;
  readonly width: number;
  readonly height: number;
  /** Room before the first frame, px. */
  readonly start: number;
}

const gap = 18;
const rowGap = 18;
/** More rows of panels than this go on in another picture: one picture must fit a page. */
const rowsAPicture = 4;

/** Room that the figures of the axes take beside the frames, px. */
interface Beside {
  readonly start: number;
  readonly end: number;
}

/**
 * A grid for so many panels in the width of the column. All of them have the same axes: the figures of the upright one stand
 * before the first of each row.
 */
export function panelGrid(
  count: number,
  heights: readonly [number, number, number],
  beside: (height: number) => Beside,
  most: 1 | 2 | 3 = 3,
): PanelGrid {
  const columns = Math.min(most, count === 1 ? 1 : count === 2 || count === 4 ? 2 : 3);
  const height = heights[columns - 1] ?? heights[0];
  const { start, end } = beside(height);
  const width = Math.floor((theme.width - 6 - start - end - (columns - 1) * gap) / columns);
  return { columns, width, height, start };
}

/** The room beside frames of this height with these axes. */
export function roomBeside(across: Axis, upright: Axis | null, height: number): Beside {
  const start = upright === null ? 0 : uprightRoom(upright, height);
  return { start: Math.max(start, overhang(across, 0)), end: overhang(across, 1) };
}

/** What stands over a panel, in lines. */
export interface PanelTitle {
  readonly name: readonly string[];
  readonly facts: readonly string[];
}

/** A panel's name over its number of children and its reading in words. */
export function panelTitle(
  panel: {
    readonly label: Message | string;
    readonly reading?: Reading | undefined;
    readonly facts: readonly string[];
  },
  width: number,
  words: Words,
): PanelTitle {
  const reading = panel.reading === undefined ? [] : [words.text({ id: `reading.${panel.reading}`, values: {} })];
  const under = words.parts([...panel.facts, ...reading]);
  return {
    name: wrapAtMost(words.text(panel.label), width, 13, 600, 2),
    facts: under === "" ? [] : wrapAtMost(under, width, 12, 400, 3),
  };
}

/** Panels of one chart: the same axes in each, a title over each, and what is drawn in each. */
export interface PanelSheet<Panel> {
  readonly panels: readonly Panel[];
  readonly grid: PanelGrid;
  readonly across: Axis;
  readonly upright: Axis | null;
  /** Room below each frame for what stands there, px. Defaults to the figures of the axis across. */
  readonly below?: number;
  readonly titleOf: (panel: Panel) => PanelTitle;
  readonly marksIn: (panel: Panel, frame: Frame) => Partial<Marks>;
}

/** Panels side by side and below one another, in as many pictures as they need. */
export function panelPictures<Panel>(sheet: PanelSheet<Panel>): Picture[] {
  const most = rowsAPicture * sheet.grid.columns;
  const pictures: Picture[] = [];
  for (let first = 0; first < sheet.panels.length; first += most)
    pictures.push(pictureOf({ ...sheet, panels: sheet.panels.slice(first, first + most) }));
  return pictures;
}

/** Room for a title over its frame, px. */
export const titleHeight = ({ name, facts }: PanelTitle): number => {
  const lines = name.length * 15 + facts.length * 14 + (facts.length > 0 ? 2 : 0);
  return lines === 0 ? 0 : lines + 9;
};

function pictureOf<Panel>(sheet: PanelSheet<Panel>): Picture {
  const { grid, panels } = sheet;
  const titles = panels.map(sheet.titleOf);
  const below = sheet.below ?? labelRoom;
  const parts: Partial<Marks>[] = [];
  let top = 0;
  for (let first = 0; first < panels.length; first += grid.columns) {
    const row = panels.slice(first, first + grid.columns);
    const room = Math.max(...titles.slice(first, first + grid.columns).map(titleHeight));
    for (const [column, panel] of row.entries()) {
      const x = grid.start + column * (grid.width + gap);
      const frame: Frame = { x, y: top + room, width: grid.width, height: grid.height };
      const place = { left: column === 0, bottom: first + column >= panels.length - grid.columns };
      parts.push(
        ...axesOf(sheet, frame, place, below),
        titleMarks(titles[first + column] ?? { name: [], facts: [] }, frame, room),
        sheet.marksIn(panel, frame),
      );
    }
    top += room + grid.height + below + rowGap;
  }
  const height = top - rowGap + titleRoom(sheet.across.title, grid.width);
  const width = grid.start + grid.columns * (grid.width + gap) - gap;
  return { width, height, marks: together(parts) };
}

/** Light lines in every frame; figures of the upright axis at the left ones, the name of the other below the lowest ones. */
function axesOf<Panel>(
  { across, upright }: PanelSheet<Panel>,
  frame: Frame,
  place: { readonly left: boolean; readonly bottom: boolean },
  below: number,
): Partial<Marks>[] {
  const marks = [acrossAxis(frame, across, place.bottom, below)];
  if (upright === null) return marks;
  return [...marks, gridLines(frame, upright), ...(place.left ? [uprightAxis(frame, upright)] : [])];
}

/** A title over its frame; titles of a row begin at the same height. */
export function titleMarks({ name, facts }: PanelTitle, frame: Frame, room: number): Partial<Marks> {
  const top = frame.y - room;
  const under = { baseline: "top", color: palette.quiet } as const;
  return {
    texts: [
      ...(name.length > 0
        ? [text(frame.x, top, name.join("\n"), { baseline: "top", size: 13, weight: 600, lineHeight: 15 })]
        : []),
      ...(facts.length > 0 ? [text(frame.x, top + name.length * 15 + 2, facts.join("\n"), under)] : []),
    ],
  };
}
