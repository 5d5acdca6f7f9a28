import { ImportedXmlComponent, InternalHyperlink, Paragraph, Tab, TabStopType, TextRun } from "docx";
import type { Words } from "../words.js";
import { bookmarkName, directionOf, runsOf } from "./inline.js";
import { styleId } from "./styles.js";

/** A section as the list of contents names it. */
export interface ContentsEntry {
  /** Its anchor on the page. */
  readonly id: string;
  /** Its heading, as it stands in the document. */
  readonly text: string;
}

/** A part of a field (ISO/IEC 29500-1, 17.16.18), with nothing worked out so far: that is left to whatever opens the document. */
function mark(kind: "begin" | "separate" | "end"): TextRun {
  const stale = kind === "begin" ? { "w:dirty": "true" } : {};
  return new TextRun({ children: [new ImportedXmlComponent("w:fldChar", { "w:fldCharType": kind, ...stale })] });
}

/** The number of the page on which a bookmark stands (ISO/IEC 29500-1, 17.16.5.45). */
function pageOf(bookmark: string): TextRun[] {
  const instruction = new ImportedXmlComponent("w:instrText", { "xml:space": "preserve" });
  instruction.push(` PAGEREF ${bookmark} \\h `);
  return [mark("begin"), new TextRun({ children: [instruction] }), mark("separate"), mark("end")];
}

/**
 * The sections as links, with their pages at the end of the line. Pages are known only where the document is laid out: their
 * numbers are fields. No field is around the list: a word processor that makes such a list anew only when asked would show it
 * without numbers until then.
 */
export function contentsParagraphs(entries: readonly ContentsEntry[], words: Words, width: number): Paragraph[] {
  return entries.map(({ id, text }) => {
    const bookmark = bookmarkName(id);
    const children = [...runsOf(text, words), new TextRun({ children: [new Tab()] }), ...pageOf(bookmark)];
    return new Paragraph({
      ...directionOf(words),
      style: styleId("TOC1"),
      tabStops: [{ type: TabStopType.RIGHT, position: width }],
      children: [new InternalHyperlink({ anchor: bookmark, children })],
    });
  });
}
