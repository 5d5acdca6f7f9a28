import type { Block } from "../../../results/comparison.js";
import { message } from "../../../results/message.js";
import type { Chart } from "../../../results/schema.js";
import { anchor, type OwnMarkup } from "../../markup.js";
import { readingSign } from "../../signs.js";
import type { Words } from "../../words.js";
import {
  type BehindView,
  behindView,
  type EarlierMethods,
  type ParagraphView,
  paragraphsOf,
  withoutRepeats,
} from "../check.js";
import { type FigureView, figureView } from "../figure.js";
import { nameOver } from "../heading.js";
import type { CitationList, Citations } from "../sources.js";
import { type TableView, tableView } from "../table.js";

/** The sign and word of a reading; both null where a finding has none. */
export interface SignView {
  readonly sign: OwnMarkup | null;
  readonly word: string | null;
}

/** A finding of the comparison as the template draws it. */
export interface BlockView extends SignView {
  readonly id: string;
  readonly title: string;
  /** The title where it stands over the finding; null where the finding begins with it. */
  readonly name: string | null;
  readonly finding: string;
  readonly figures: readonly FigureView[];
  readonly tables: readonly TableView[];
  /** What only the screen shows, folded: the rest stands in the files beside the comparison. */
  readonly behind: BehindView | null;
  readonly meaning: readonly ParagraphView[];
  readonly cautions: readonly ParagraphView[];
  readonly method: readonly string[];
  readonly citations: CitationList | null;
}

/** Where a finding stands on the page. */
export const blockAnchor = (id: string): string => `block-${anchor(id)}`;

export function signView(block: Block, words: Words): SignView {
  const { reading } = block;
  if (reading === undefined) return { sign: null, word: null };
  return { sign: readingSign(reading), word: words.text(message(`reading.${reading}`)) };
}

/** A table with more rows than this is folded away where a picture shows what it holds. */
const rowsBesidePicture = 12;

/** The pictures that only the screen shows: each fills most of a page. */
function foldedCharts(charts: readonly Chart[], beside: boolean): readonly Chart[] {
  const [first, ...others] = charts.filter((chart) => chart.kind === "intervals");
  const unmoved = first !== undefined && !first.rows.some(({ moves }) => moves === true);
  return beside && unmoved ? [first, ...others] : others;
}

/**
 * A finding with its figures and tables. Long tables beside a picture are folded away, and so is all but the first of several
 * long pictures of one kind: a comparison has many findings, and must stay readable on paper. `beside`: an earlier finding shows a
 * picture like these, so that even the first is folded where nothing in it moves.
 */
export function blockView(
  block: Block,
  beside: boolean,
  citations: Citations,
  earlier: EarlierMethods,
  words: Words,
): BlockView {
  const id = blockAnchor(block.id);
  const figures: FigureView[] = [];
  for (const [i, chart] of block.charts.entries()) figures.push(figureView(chart, `${id}-figure-${i + 1}`, words));
  const hidden = foldedCharts(block.charts, beside);
  const long = figures.filter((_, i) => hidden.some((chart) => chart === block.charts[i]));
  const tables = block.tables.map((table, i) => tableView(table, `${id}-table-${i + 1}`, words));
  const folded = (table: TableView): boolean =>
    figures.length > 0 && (table.elsewhere !== null || table.rows.length > rowsBesidePicture);
  const title = words.text(block.title);
  const finding = words.text(block.finding);
  const method = block.method.map((each) => words.text(each));
  return {
    ...signView(block, words),
    id,
    title,
    name: nameOver(title, finding),
    finding,
    figures: figures.filter((figure) => !long.includes(figure)),
    tables: tables.filter((table) => !folded(table)),
    behind: behindView(long, tables.filter(folded), words),
    meaning: paragraphsOf(block.meaning, words),
    cautions: paragraphsOf(block.cautions, words),
    method: withoutRepeats(title, method, earlier, words),
    citations: citations.of(block.sources),
  };
}
