import {
  AlignmentType,
  BorderStyle,
  Paragraph,
  Table,
  TableCell,
  TableLayoutType,
  TableRow,
  VerticalAlignTable,
  WidthType,
} from "docx";
import { textWidth } from "../charts/text-width.js";
import { theme } from "../charts/theme.js";
import type { TableView } from "../view/table.js";
import type { Words } from "../words.js";
import { directionOf, linkTo, runsOf } from "./inline.js";
import { withSign } from "./sign-letters.js";
import { styleId } from "./styles.js";

type Cell = TableView["rows"][number]["head"];

/** Width of the text on the page, and the room at the sides of a cell, in twentieths of a point. */
const pageWidth = 9411;
const sides = 90;
/** Sizes of letters to try, in half points: a table with many columns takes smaller ones. */
const sizes = [18, 16, 14] as const;
/** Twentieths of a point in a pixel. */
const twips = 15;
/** A name longer than this may take several lines even where there is room, px. */
const widest = 330;

/** Where there is room, columns leave some for a wider face: on a computer without the one named, the next may be a fifth wider. */
const forOtherFaces = 1.22;

/** The whole of a text of a cell. */
const textOf = (cell: Cell, words: Words): string => withSign(cell.sign, cell.text, words);

interface Need {
  /** Width without which a word would break. */
  readonly least: number;
  /** Width that needs no second line. */
  readonly most: number;
}

function needOf(texts: readonly { text: string; whole: boolean }[], size: number, weight: 400 | 600): Need {
  const width = (text: string): number => textWidth(text, (size / 2) * (96 / 72), weight);
  return {
    least: Math.max(
      0,
      ...texts.flatMap(({ text, whole }) => (whole ? [width(text)] : text.split(/[\s\u200b]+/).map(width))),
    ),
    most: Math.max(0, ...texts.map(({ text }) => width(text))),
  };
}

/** Widths of the columns: what they need, and where that is too much, what their longest words need and a share of the rest. */
function widthsOf(view: TableView, words: Words): { readonly widths: number[]; readonly size: number } {
  for (const size of sizes) {
    const needs = view.columns.map(({ label, numeric }, at) => {
      const cells = view.rows.flatMap(({ head, cells, group }) => (group ? [] : [[head, ...cells][at] ?? head]));
      const body = cells.map((cell) => ({ text: textOf(cell, words), whole: numeric || cell.short }));
      const head = needOf([{ text: label, whole: false }], size, 600);
      const rest = needOf(body, size, 400);
      const pad = (px: number): number => Math.ceil(1.04 * px * twips) + 2 * sides + 20;
      const least = Math.max(head.least, Math.min(rest.least, widest));
      return { least: pad(least), most: pad(Math.max(least, Math.min(widest, Math.max(head.least * 1.6, rest.most)))) };
    });
    const least = needs.reduce((sum, need) => sum + need.least, 0);
    if (least > pageWidth && size !== sizes.at(-1)) continue;
    const most = needs.reduce((sum, need) => sum + need.most, 0);
    if (most <= pageWidth) {
      const room = Math.min(forOtherFaces, pageWidth / most);
      return { widths: needs.map((need) => Math.floor(need.most * room)), size };
    }
    const share = least >= pageWidth ? 0 : (pageWidth - least) / (most - least);
    const shrink = least > pageWidth ? pageWidth / least : 1;
    return { widths: needs.map((need) => Math.floor((need.least + share * (need.most - need.least)) * shrink)), size };
  }
  return { widths: [], size: sizes[0] };
}

const none = { style: BorderStyle.NONE, size: 0, color: "auto" };
const thin = { style: BorderStyle.SINGLE, size: 4, color: theme.palette.line.slice(1) };
const strong = { style: BorderStyle.SINGLE, size: 8, color: theme.palette.ink.slice(1) };

/** A table with a header row that is repeated on every page it runs over. Captions and notes are paragraphs around it. */
export function tableOf(view: TableView, words: Words): Table {
  const rightToLeft = words.direction === "rtl";
  const { widths, size } = widthsOf(view, words);
  const look = size === sizes[0] ? {} : { size };
  const paragraph = (
    text: string,
    style: string,
    numeric: boolean,
    keepNext: boolean,
    href: string | null = null,
  ): Paragraph =>
    new Paragraph({
      ...directionOf(words),
      style: styleId(style),
      // Decimals stand one below another where the end of a number is at the same side in every row.
      ...(numeric ? { alignment: rightToLeft ? AlignmentType.START : AlignmentType.END } : {}),
      ...(keepNext ? { keepNext: true } : {}),
      children: href === null ? runsOf(text, words, look) : [linkTo(href, text, words, look)],
    });
  const cell = (child: Paragraph, at: number, span = 1, head = false): TableCell =>
    new TableCell({
      children: [child],
      width: { size: span > 1 ? widths.reduce((sum, each) => sum + each, 0) : (widths[at] ?? 0), type: WidthType.DXA },
      ...(span > 1 ? { columnSpan: span } : {}),
      verticalAlign: head ? VerticalAlignTable.BOTTOM : VerticalAlignTable.TOP,
      ...(head ? { borders: { top: none, left: none, right: none, bottom: strong } } : {}),
    });
  const header = new TableRow({
    tableHeader: true,
    cantSplit: true,
    children: view.columns.map(({ label, numeric }, at) =>
      cell(paragraph(label, "table-head", numeric, true), at, 1, true),
    ),
  });
  const last = view.rows.length - 1;
  const rows = view.rows.map(({ head, cells, group, span }, row) => {
    // Short tables stay on one page; of long ones, the beginning and the end stay together.
    const keep = row < last && (!view.long || row < 2 || row === last - 1);
    return new TableRow({
      cantSplit: true,
      children: group
        ? [cell(paragraph(textOf(head, words), "table-group", false, true), 0, span)]
        : [head, ...cells].map((each, at) =>
            cell(paragraph(textOf(each, words), "table-text", each.numeric, keep, each.href), at),
          ),
    });
  });
  return new Table({
    rows: [header, ...rows],
    columnWidths: widths,
    width: { size: widths.reduce((sum, each) => sum + each, 0), type: WidthType.DXA },
    layout: TableLayoutType.FIXED,
    visuallyRightToLeft: rightToLeft,
    margins: { left: sides, right: sides, marginUnitType: WidthType.DXA },
    borders: { top: none, left: none, right: none, bottom: thin, insideHorizontal: thin, insideVertical: none },
  });
}
