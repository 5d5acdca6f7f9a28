import type { Message, Reading } from "../../results/schema.js";
import type { Words } from "../words.js";
import { wrapAtMost } from "./text-width.js";
import { type Spec, theme } from "./theme.js";

/** Where small pictures of one chart stand: how many side by side, and how large each is. */
export interface PanelGrid {
  readonly columns: number;
  readonly width: number;
  readonly height: number;
}

const gap = 22;

/**
 * A grid for so many panels in the width of the column; `left` is the room the labels of an upright axis take, at every panel
 * or, where all panels have the same one, at the outer ones only.
 */
export function panelGrid(
  count: number,
  left: number,
  heights: readonly [number, number, number],
  most: 1 | 2 | 3 = 3,
  labels: "each" | "outer" = "each",
): PanelGrid {
  const columns = Math.min(most, count === 1 ? 1 : count === 2 || count === 4 ? 2 : 3);
  const room = (labels === "each" ? columns : 1) * left;
  const width = Math.floor((theme.width - 8 - room - (columns - 1) * gap) / columns);
  return { columns, width, height: heights[columns - 1] ?? heights[0] };
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
): Spec {
  const reading = panel.reading === undefined ? [] : [words.text({ id: `reading.${panel.reading}`, values: {} })];
  const under = words.parts([...panel.facts, ...reading]);
  return {
    text: wrapAtMost(words.text(panel.label), width, 13, 600, 2),
    subtitle: wrapAtMost(under, width, 12, 400, 3),
  };
}

/** Where a panel stands in its grid: only the outer ones carry the names of the axes. */
export interface PanelPlace {
  readonly left: boolean;
  readonly bottom: boolean;
}

/** More rows of panels than this go on in another picture: one picture must fit a page. */
const rowsAPicture = 4;

/** Panels side by side and below one another, in as many pictures as they need. */
export function grids<Panel>(
  panels: readonly Panel[],
  layout: PanelGrid,
  draw: (panel: Panel, place: PanelPlace) => Spec,
): Spec[] {
  const most = rowsAPicture * layout.columns;
  const pictures: Spec[] = [];
  for (let first = 0; first < panels.length; first += most) {
    const part = panels.slice(first, first + most);
    const drawn = part.map((panel, at) =>
      draw(panel, { left: at % layout.columns === 0, bottom: at >= part.length - layout.columns }),
    );
    pictures.push(grid(drawn, layout));
  }
  return pictures;
}

function grid(panels: readonly Spec[], layout: PanelGrid): Spec {
  const only = panels[0];
  if (panels.length === 1 && only !== undefined) return only;
  return {
    concat: [...panels],
    columns: layout.columns,
    align: "each",
    spacing: { row: 20, column: gap - 2 },
  };
}
