import { isSteering } from "../isolate.js";
import { templateText } from "../templates.js";

type Widths = Readonly<Record<string, number>>;
const tables = JSON.parse(templateText("style/advance-widths.json")) as {
  readonly 400: Widths;
  readonly 600: Widths;
};

/** Whether one of the faces that every report carries has this character, or it has no picture. */
export function isEmbedded(sign: string): boolean {
  return Object.hasOwn(tables[400], sign) || isSteering(sign);
}

/** Width of a line of text in the embedded sans face, px, from its table of advance widths (without kerning). */
export function textWidth(text: string, fontSize: number, weight: 400 | 600 = 400): number {
  const widths = tables[weight];
  let sum = 0;
  // A letter outside the table is set in a face we do not know: take a wide one, so that nothing is cut.
  for (const sign of text) sum += isSteering(sign) ? 0 : (widths[sign] ?? 700);
  return (sum * fontSize) / 1000;
}

/** Breaks a text into lines no wider than `width`: at its spaces, a longer word after its hyphens, and only then anywhere. */
export function wrapText(text: string, width: number, fontSize: number, weight: 400 | 600 = 400): string[] {
  const lines: string[] = [];
  let line = "";
  for (const { word, glued } of text.split(/\s+/).flatMap((long) => piecesOf(long, width, fontSize, weight))) {
    const longer = line === "" || glued ? line + word : `${line} ${word}`;
    if (line !== "" && textWidth(longer, fontSize, weight) > width) {
      lines.push(line);
      line = word;
    } else {
      line = longer;
    }
  }
  lines.push(line);
  return lines;
}

interface Piece {
  readonly word: string;
  /** True where it goes on from the piece before without a space. */
  readonly glued: boolean;
}

/** A word as it is where it fits; else in pieces after its hyphens; a piece that is still too wide is cut. */
function piecesOf(long: string, width: number, fontSize: number, weight: 400 | 600): Piece[] {
  if (textWidth(long, fontSize, weight) <= width) return [{ word: long, glued: false }];
  return long
    .split(/(?<=\p{L}-)(?=\p{L})/u)
    .flatMap((part) => cutWord(part, width, fontSize, weight))
    .map((word, i) => ({ word, glued: i > 0 }));
}

/** A word wider than the line, in pieces that fit. */
function cutWord(word: string, width: number, fontSize: number, weight: 400 | 600): string[] {
  if (textWidth(word, fontSize, weight) <= width) return [word];
  const pieces: string[] = [];
  let piece = "";
  for (const sign of word) {
    if (piece !== "" && textWidth(piece + sign, fontSize, weight) > width) {
      pieces.push(piece);
      piece = "";
    }
    piece += sign;
  }
  pieces.push(piece);
  return pieces;
}

/** One line, closed with an ellipsis when something was left out. */
export const cutTo = (text: string, width: number, fontSize: number): string =>
  wrapAtMost(text, width, fontSize, 400, 1).join("");

/** At most `most` lines, the last one closed with an ellipsis when something was left out. */
export function wrapAtMost(text: string, width: number, fontSize: number, weight: 400 | 600, most: number): string[] {
  const lines = wrapText(text, width, fontSize, weight);
  if (lines.length <= most) return lines;
  let last = lines[most - 1] ?? "";
  while (last !== "" && textWidth(`${last}\u2026`, fontSize, weight) > width) last = last.slice(0, -1);
  return [...lines.slice(0, most - 1), `${last}\u2026`];
}
