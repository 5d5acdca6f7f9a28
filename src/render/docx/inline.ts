import { createHash } from "node:crypto";
import { InternalHyperlink, type IRunOptions, type ParagraphChild, TextRun } from "docx";
import type { Words } from "../words.js";
import { stretchesOf } from "./directions.js";

/** How a run of text looks beyond its paragraph's style. */
export type RunLook = Pick<IRunOptions, "bold" | "size" | "style" | "color">;

/** Control signs, halves of signs and what Unicode keeps for itself: no XML document may hold most of them (XML 1.0, 2.2). */
const forbidden = /[\p{Cc}\p{Cs}\ufffe\uffff]/gu;
const spaces = /[\t\n\r]+/g;

/** A text with nothing that a document may not hold; breaks of lines become spaces. */
export function printable(text: string): string {
  return text.replace(spaces, " ").replace(forbidden, "\ufffd");
}

/** A text as runs, one for each direction of writing. */
export function runsOf(text: string, words: Words, look: RunLook = {}): TextRun[] {
  return stretchesOf(printable(text), words.direction === "rtl").map(
    (stretch) => new TextRun({ ...look, text: stretch.text, ...(stretch.rightToLeft ? { rightToLeft: true } : {}) }),
  );
}

/** The first of the private signs that hold places in a message. */
const firstPlace = 0xf0000;

/** What to give a message for its `at`-th part that is no text: a field, a link, text of another look. */
export const placeOf = (at: number): string => String.fromCodePoint(firstPlace + at);

/** A message's text with its places filled by these parts. */
export function filled(text: string, parts: readonly (readonly ParagraphChild[])[], words: Words): ParagraphChild[] {
  return text.split(/([\u{f0000}-\u{ffffd}])/u).flatMap((piece): readonly ParagraphChild[] => {
    const part = parts[(piece.codePointAt(0) ?? 0) - firstPlace];
    if (part !== undefined) return part;
    return piece === "" || /^[\u2066-\u2069]+$/.test(piece) ? [] : runsOf(piece, words);
  });
}

/** Longest name of a bookmark that word processors take. */
const longestName = 40;

/** The bookmark of an anchor of the page: letters, digits and low lines, a letter first. */
export function bookmarkName(anchor: string): string {
  const plain = `at_${anchor.replace(/[^A-Za-z0-9]/g, "_")}`;
  if (plain.length <= longestName) return plain;
  const digest = createHash("sha256").update(anchor).digest("hex").slice(0, 8);
  return `${plain.slice(0, longestName - 9)}_${digest}`;
}

/** A link to an anchor of the page, such as '#weight-digits'. */
export function linkTo(href: string, text: string, words: Words, look: RunLook = {}): InternalHyperlink {
  return new InternalHyperlink({
    anchor: bookmarkName(href.replace(/^#/, "")),
    children: runsOf(text, words, { ...look, style: "Hyperlink" }),
  });
}

/** What makes a paragraph run from right to left where the words do. */
export const directionOf = (words: Words): { readonly bidirectional?: true } =>
  words.direction === "rtl" ? { bidirectional: true } : {};
