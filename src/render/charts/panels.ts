import type { Message, Reading } from "../../results/schema.js";
import type { Words } from "../words.js";
import { atStart, inReadingOrder, startAnchor } from "./direction.js";
import type { Figure, Row, Spec } from "./figure.js";
import { wrapAtMost, wrapText } from "./text-width.js";
import { theme } from "./theme.js";

/** How many panels stand side by side, and how large each is, px. */
export interface Grid {
  readonly columns: number;
  readonly width: number;
  readonly height: number;
}

const gap = 18;
/**
 * More rows of panels than this go on in another picture: one picture must fit a page, and tall rows of two leave less of a page
 * empty where a picture has to move to the next.
 */
const rowsThatFit = ({ columns }: Grid): number => (columns === 2 ? 2 : 4);

/** A grid for so many panels: `heights` for one, two and three columns, `beside` the room that the upright axis takes. */
export function gridFor(
  count: number,
  heights: readonly [number, number, number],
  beside: number,
  most: 1 | 2 | 3 = 3,
): Grid {
  const columns = Math.min(most, count === 1 ? 1 : count === 2 || count === 4 ? 2 : 3);
  const width = Math.floor((theme.width - 6 - beside - (columns - 1) * gap) / columns);
  return { columns, width, height: heights[columns - 1] ?? heights[0] };
}

/** A panel: its name, what stands under it, and its data. */
export interface Panel {
  readonly label: Message | string;
  readonly reading?: Reading | undefined;
  readonly facts: readonly string[];
  readonly rows: readonly Row[];
}

interface Sheet {
  readonly panels: readonly Panel[];
  readonly grid: Grid;
  /** Name of the axis across, once below all panels. */
  readonly axisTitle: string;
  /** What is drawn in each panel, from the data `rows`. */
  readonly layer: readonly Spec[];
  readonly encoding?: Spec;
  /** Rows of panels to a picture, where these are not as high as most. */
  readonly rowsAPicture?: number;
  /** True where panels have categories of their own across. */
  readonly ownAcross?: boolean;
  /** More data, the same for all panels. */
  readonly datasets?: Figure["datasets"];
}

/** Small multiples on the same axes: a name over each, its facts under the name, the layers within. In as many pictures as they need. */
export function panelFigures(sheet: Sheet, words: Words): Figure[] {
  const most = (sheet.rowsAPicture ?? rowsThatFit(sheet.grid)) * sheet.grid.columns;
  const pictures: Figure[] = [];
  for (let first = 0; first < sheet.panels.length; first += most) {
    pictures.push(figureOf({ ...sheet, panels: sheet.panels.slice(first, first + most) }, words));
  }
  return pictures;
}

function figureOf(sheet: Sheet, words: Words): Figure {
  const { panels, grid, axisTitle, layer, encoding, datasets } = sheet;
  const { columns, width, height } = grid;
  const placed = inReadingOrder(panels, columns, words);
  const names = placed.map(({ label }) => wrapAtMost(words.text(label), width, 13, 600, 2));
  const facts = placed.map((panel) => wrapAtMost(factsOf(panel, words), width, 12, 400, 3));
  const { align, x } = atStart(words, width);
  const under: Spec = {
    transform: [{ filter: "datum.facts" }],
    mark: {
      ...{ type: "text", style: "facts", align },
      dy: { expr: "-14 * (split(datum.facts, '\\n').length - 1)" },
    },
    encoding: { x, y: { value: -5 }, text: { field: "facts" } },
  };
  return {
    spec: {
      params: [{ name: "names", value: names }],
      data: { name: "rows" },
      facet: {
        field: "panel",
        type: "ordinal",
        header: {
          labelExpr: "names[datum.value]",
          labelAnchor: startAnchor(words),
          labelPadding: 3,
          title: axisTitle === "" ? null : wrapText(axisTitle, columns * width, 12),
          titleOrient: "bottom",
          titleAnchor: "middle",
          titleAlign: "center",
          titlePadding: 6,
        },
      },
      columns,
      spacing: { row: 18, column: gap },
      resolve: { axis: { x: "independent" }, ...(sheet.ownAcross === true ? { scale: { x: "independent" } } : {}) },
      spec: { width, height, ...(encoding === undefined ? {} : { encoding }), layer: [...layer, under] },
    },
    datasets: {
      rows: placed.flatMap(({ rows }, panel) => [
        ...rows.map((row) => ({ panel, ...row })),
        { panel, facts: facts[panel]?.join("\n") ?? "" },
      ]),
      ...datasets,
    },
  };
}

/** What stands under the name: its children, and its reading in words. */
function factsOf({ facts, reading }: Panel, words: Words): string {
  const read = reading === undefined ? [] : [words.text({ id: `reading.${reading}`, values: {} })];
  return words.parts([...facts, ...read]);
}
