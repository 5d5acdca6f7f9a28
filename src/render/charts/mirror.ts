import { fromRightToLeft } from "../isolate.js";

const swapped: Readonly<Record<string, string>> = { start: "end", end: "start" };

/** A text that stays legible in a mirrored drawing: turned back about its own anchor, and running to the other side of it. */
function turnedBack(attributes: string, content: string): string {
  const anchored = attributes.replace(
    / text-anchor="(start|end)"/,
    (_, side: string) => ` text-anchor="${swapped[side]}"`,
  );
  const turned = / transform="/.test(anchored)
    ? anchored.replace(/ transform="([^"]*)"/, (_, moves: string) => ` transform="${moves} scale(-1,1)"`)
    : `${anchored} transform="scale(-1,1)"`;
  const lines = content.replace(/(^|>)([^<]+)/g, (_, before: string, text: string) => before + fromRightToLeft(text));
  return `<text${turned}>${lines}</text>`;
}

/**
 * The mirror image of a drawing of Vega's, for languages written from right to left: names at the right, columns of figures
 * at the left, axes growing to the left, panels following each other from the right. Everything is mirrored at once, so
 * that no kind of chart has to know of it; only texts are turned back. Their direction stands in the texts themselves (as
 * isolates) and their sides in plain anchors, since not every program that draws SVG knows of directions.
 */
export function mirrorSvg(svg: string): string {
  const [left = 0, , width = 0] = (/<svg[^>]* viewBox="([^"]*)"/.exec(svg)?.[1] ?? "").split(/[\s,]+/).map(Number);
  return svg
    .replace(/<text((?:[^>/]|\/(?!>))*)>([\s\S]*?)<\/text>/g, (_, attributes: string, content: string) =>
      turnedBack(attributes, content),
    )
    .replace(
      /^(<svg[^>]*)>/,
      (_, opening: string) => `${opening} direction="ltr"><g transform="translate(${2 * left + width},0) scale(-1,1)">`,
    )
    .replace(/<\/svg>\s*$/, "</g></svg>");
}
