import { ImageRun } from "docx";
import { theme } from "../charts/theme.js";
import { withoutIsolates } from "../isolate.js";
import type { OwnMarkup } from "../markup.js";
import { printable } from "./inline.js";
import { pngOf } from "./raster.js";

/** Pixels of the drawings of a document: the same small drawing stands beside many labels. */
export type Rasters = Map<string, Promise<Uint8Array>>;

/** Room for a picture on a page, px: the width of the text, and the height that leaves room for its caption. */
const room = { width: 627, height: 840 };
/** Faces that the drawings' letters fit in: the embedded one is not there outside the report. */
const faces = "Calibri, Carlito, Source Sans 3, Arial, sans-serif";

/** What the style sheet says of signs and swatches, on the drawings themselves. */
const signStyle = `fill="none" stroke="${theme.palette.ink}" stroke-width="1.7"`;

const unescaped: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', "#39": "'" };

/** The text alternative that a drawing carries. */
export function alternativeOf(markup: OwnMarkup): string {
  const label = /^<svg[^>]* aria-label="([^"]*)"/.exec(markup.text)?.[1] ?? "";
  return label.replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => unescaped[name] ?? "");
}

/** A drawing of the page as a file of its own: namespaces again, no attribute or style of the page. */
export function standaloneSvg(markup: OwnMarkup): string {
  return printable(markup.text)
    .replace(/^<svg class="sign"/, `<svg ${signStyle}`)
    .replaceAll('class="sign-fill"', `fill="${theme.palette.ink}"`)
    .replace(/^<svg([^>]*)>/, (_, attributes: string) => {
      const kept = attributes.replace(/ (class|role|focusable|aria-[a-z]+)="[^"]*"/g, "");
      return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"${kept}>`;
    });
}

function sizeOf(svg: string): { readonly width: number; readonly height: number } {
  const opening = /^<svg[^>]*>/.exec(svg)?.[0] ?? "";
  const size = (name: string): number => Number(new RegExp(` ${name}="([\\d.]+)"`).exec(opening)?.[1] ?? 0);
  const [width, height] = [size("width"), size("height")];
  if (!(width > 0 && height > 0)) throw new Error("A drawing has no size.");
  return { width, height };
}

function rasterOf(svg: string, rasters: Rasters): Promise<Uint8Array> {
  const known = rasters.get(svg) ?? pngOf(svg);
  rasters.set(svg, known);
  return known;
}

/**
 * A drawing as a picture of a document: as SVG, with pixels for programs that do not draw SVG. `number` tells the pictures of
 * a document apart.
 */
export async function pictureOf(
  markup: OwnMarkup,
  alternative: string,
  number: number,
  rasters: Rasters,
): Promise<ImageRun> {
  const svg = standaloneSvg(markup);
  const { width, height } = sizeOf(svg);
  const shrunk = Math.min(1, room.width / width, room.height / height);
  const drawn = svg.replace(/ font-family="[^"]*"/g, ` font-family="${faces}"`);
  return new ImageRun({
    type: "svg",
    data: Buffer.from(drawn, "utf8"),
    transformation: { width: width * shrunk, height: height * shrunk },
    fallback: { type: "png", data: Buffer.from(await rasterOf(svg, rasters)) },
    altText: { id: String(number), name: `Figure ${number}`, description: printable(withoutIsolates(alternative)) },
  });
}
