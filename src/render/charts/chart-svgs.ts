import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { svgOf } from "./draw-svg.js";
import { picturesOf } from "./index.js";
import { mirrorSvg } from "./mirror.js";

/**
 * A drawing without what it does not need: roles of its parts, namespace addresses, the faces of its letters, what goes without
 * saying, more than two decimals; mirrored where words run from right to left.
 */
export function tidySvg(drawn: string, direction: Words["direction"] = "ltr"): string {
  const svg = direction === "rtl" ? mirrorSvg(drawn) : drawn;
  const tidy = (tag: string): string =>
    tag
      .replace(/ xmlns(:xlink)?="[^"]*"/g, "")
      .replace(/ (class|version|role|aria-[a-z]+|pointer-events|stroke-miterlimit)="[^"]*"/g, "")
      .replace(/ (font-family="[^"]*"|font-weight="400"|opacity="1")/g, "")
      .replace(/-?\d+\.\d{3,}/g, (number) => String(Math.round(Number(number) * 100) / 100));
  // Tags only: a label that happens to look like one of these stays as it is.
  return svg.replace(/<[^>]*>/g, tidy);
}

/** The pictures of a chart as SVG, in these words. */
export async function chartSvgs(chart: Chart, words: Words): Promise<readonly string[]> {
  const drawn = picturesOf(chart, words).map(svgOf);
  return (await Promise.all(drawn)).map((svg) => tidySvg(svg, words.direction));
}
