import { Drawing } from "../../src/render/charts/drawing.js";
import type { OwnMarkup } from "../../src/render/markup.js";
import type { Words } from "../../src/render/words.js";
import type { Chart } from "../../src/results/schema.js";

/** The pictures of a chart as the page takes them in. */
export async function drawn(chart: Chart, words: Words): Promise<readonly OwnMarkup[]> {
  const drawing = new Drawing(chart, words);
  await drawing.finished();
  return drawing.pictures;
}

/** What is written in a drawing, text by text; lines of one text as texts of their own. */
export const textsIn = (svg: string): string[] =>
  [...svg.matchAll(/<t(?:ext|span)\b[^>]*>([^<]+)</g)].map((match) => unescaped(match[1] ?? ""));

const unescaped = (text: string): string =>
  text.replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&quot;", '"').replaceAll("&amp;", "&");

export const sizeOf = (svg: string, side: "width" | "height"): number =>
  Number(new RegExp(`<svg[^>]* ${side}="([\\d.]+)"`).exec(svg)?.[1]);

/** Where the texts stand that read so, px across the drawing: the sums of the moves around them. */
export function acrossOf(svg: string, wanted: (text: string) => boolean): number[] {
  const places: number[] = [];
  const moves: number[] = [];
  for (const [tag, name, attributes = "", after = ""] of svg.matchAll(/<(\/?[a-z]+)([^>]*)>([^<]*)/g)) {
    if (name === "/g" || name === "/text") moves.pop();
    if ((name === "g" || name === "text") && !tag.includes("/>")) {
      moves.push(Number(/transform="translate\((-?[\d.]+)/.exec(attributes)?.[1] ?? 0));
    }
    if (after !== "" && wanted(unescaped(after))) places.push(moves.reduce((sum, move) => sum + move, 0));
  }
  return places;
}
