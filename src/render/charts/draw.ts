import type { Chart } from "../../results/schema.js";
import { escapeText, OwnMarkup } from "../markup.js";
import type { Words } from "../words.js";
import { drawSvgs, hasDrawingThread } from "./draw-in-thread.js";
import { theme } from "./theme.js";

/** A drawn picture ready to stand in the page: the text alternative on the outside, the faces of its letters once for all. */
export function labelledSvg(svg: string, alternative: string): OwnMarkup {
  const label = `role="img" aria-label="${escapeText(alternative)}" focusable="false"`;
  const faces = `font-family="${theme.config.font}" font-weight="400"`;
  return new OwnMarkup(svg.replace(/^<svg/, () => `<svg class="chart" ${label} ${faces}`));
}

/** A chart that is being drawn. The page is put together meanwhile and takes it in at the end. */
export class Drawing {
  /** One picture, or several where the parts have axes of their own or would not fit a page. */
  constructor(readonly pictures: Promise<readonly OwnMarkup[]>) {
    // Whoever takes it in is told of a failure; nobody else needs to be.
    pictures.catch(() => {});
  }

  /** The pictures as they stand in the figure of the page that has this id: each moves by itself where it is too wide. */
  async inFigure(id: string): Promise<OwnMarkup> {
    const opening = `<div class="drawing" role="group" aria-labelledby="${escapeText(id)}-title" tabindex="0">`;
    return new OwnMarkup((await this.pictures).map(({ text }) => `${opening}${text}</div>`).join("\n"));
  }
}

/** Has charts drawn that a page will ask for later, where there is a thread to draw them meanwhile. */
export function drawAhead(charts: readonly Chart[], words: Words): void {
  if (!hasDrawingThread()) return;
  // Whoever asks for a chart is told why it cannot be drawn.
  for (const chart of charts) drawSvgs(chart, words).catch(() => {});
}

/** Begins to draw a chart as static SVG. Of several pictures the first one says the alternative. */
export function startChart(chart: Chart, words: Words): Drawing {
  const alternative = words.text(chart.alternative);
  const continued = words.text({ id: "chart.continued", values: { title: chart.title } });
  return new Drawing(
    drawSvgs(chart, words).then((svgs) => svgs.map((svg, at) => labelledSvg(svg, at === 0 ? alternative : continued))),
  );
}

/** Draws a chart as static SVG. */
export const drawChart = (chart: Chart, words: Words): Promise<readonly OwnMarkup[]> =>
  startChart(chart, words).pictures;
