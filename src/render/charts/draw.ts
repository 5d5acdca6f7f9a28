import type { Chart } from "../../results/schema.js";
import { escapeText, OwnMarkup } from "../markup.js";
import type { Words } from "../words.js";
import { drawSvg, hasDrawingThread } from "./draw-in-thread.js";
import { picturesOf } from "./index.js";
import { mirrorSvg } from "./mirror.js";
import type { Picture } from "./picture.js";
import { theme } from "./theme.js";

/**
 * Makes a drawn chart ready to stand in the page: the text alternative on the outside, ids that no other figure has (Vega
 * counts them through the whole process), no roles on its parts, no namespace addresses, the faces of its letters once for all,
 * nothing that goes without saying, sizes with at most two decimals; mirrored where words run from right to left.
 */
export function finishSvg(
  drawn: string,
  alternative: string,
  prefix: string,
  direction: Words["direction"] = "ltr",
): string {
  const svg = direction === "rtl" ? mirrorSvg(drawn) : drawn;
  const ids = new Map<string, string>();
  const renamed = (id: string): string => {
    const known = ids.get(id) ?? `${prefix}-part-${ids.size + 1}`;
    ids.set(id, known);
    return known;
  };
  const tidy = (tag: string): string =>
    tag
      .replace(/ xmlns(:xlink)?="[^"]*"/g, "")
      .replace(/ (class|version|role|aria-[a-z]+|pointer-events|stroke-miterlimit)="[^"]*"/g, "")
      .replace(/ (font-family="[^"]*"|font-weight="400"|opacity="1")/g, "")
      .replace(/ id="([^"]+)"/g, (_, id: string) => ` id="${renamed(id)}"`)
      .replace(/url\(#([^)]+)\)/g, (_, id: string) => `url(#${renamed(id)})`)
      .replace(/-?\d+\.\d{3,}/g, (number) => String(Math.round(Number(number) * 100) / 100));
  // Tags only: a label that happens to look like one of these stays as it is.
  const role = `class="chart" role="img" aria-label="${escapeText(alternative)}" focusable="false" font-family="${theme.config.font}" font-weight="400"`;
  return svg.replace(/<[^>]*>/g, tidy).replace(/^<svg/, () => `<svg ${role}`);
}

/** A picture that is being drawn. The page is put together meanwhile and takes it in at the end. */
export class Drawing {
  constructor(readonly markup: Promise<OwnMarkup>) {
    // Whoever takes it in is told of a failure; nobody else needs to be.
    markup.catch(() => {});
  }
}

const pictures = new WeakMap<Words, WeakMap<Chart, readonly Picture[]>>();

/** The chart's pictures in these words, put together once. */
function picturesIn(words: Words, chart: Chart): readonly Picture[] {
  const own = pictures.get(words) ?? new WeakMap<Chart, readonly Picture[]>();
  pictures.set(words, own);
  const known = own.get(chart) ?? picturesOf(chart, words);
  own.set(chart, known);
  return known;
}

/** Has charts drawn that a page will ask for later, where there are threads to draw them meanwhile. */
export function drawAhead(charts: readonly Chart[], words: Words): void {
  if (!hasDrawingThread()) return;
  // Whoever asks for a chart is told why it cannot be drawn.
  for (const chart of charts) for (const picture of picturesIn(words, chart)) drawSvg(picture).catch(() => {});
}

/**
 * Begins to draw a chart as static SVG, one drawing for each of its parts. `figureId` goes before every id. A picture in
 * several parts says its alternative once.
 */
export function startChart(chart: Chart, words: Words, figureId: string): Drawing[] {
  const alternative = words.text(chart.alternative);
  return picturesIn(words, chart).map((picture, at) => {
    const text = at === 0 ? alternative : words.text({ id: "chart.continued", values: { title: chart.title } });
    const finished = (svg: string): OwnMarkup =>
      new OwnMarkup(finishSvg(svg, text, `${figureId}-${at + 1}`, words.direction));
    return new Drawing(drawSvg(picture).then(finished));
  });
}

/** Draws a chart as static SVG. */
export function drawChart(chart: Chart, words: Words, figureId: string): Promise<OwnMarkup[]> {
  return Promise.all(startChart(chart, words, figureId).map(({ markup }) => markup));
}
