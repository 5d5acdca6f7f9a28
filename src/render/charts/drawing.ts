import type { Chart } from "../../results/schema.js";
import { escapeText, OwnMarkup } from "../markup.js";
import type { Words } from "../words.js";
import { drawChart } from "./draw.js";
import { theme } from "./theme.js";

/** A drawn picture ready to stand in the page: the text alternative on the outside, the faces of its letters once for all. */
export function labelledSvg(svg: string, alternative: string): OwnMarkup {
  const label = `role="img" aria-label="${escapeText(alternative)}" focusable="false"`;
  const faces = `font-family="${theme.config.font}" font-weight="400"`;
  return new OwnMarkup(svg.replace(/^<svg/, () => `<svg class="chart" ${label} ${faces}`));
}

/** The pictures of a figure: being drawn from the moment it is made, there once `finished` has been waited for. */
export class Drawing {
  pictures: readonly OwnMarkup[] = [];
  readonly #drawn: Promise<readonly string[]>;

  constructor(
    readonly chart: Chart,
    private readonly words: Words,
  ) {
    this.#drawn = drawChart(chart, words);
  }

  async finished(): Promise<void> {
    const svgs = await this.#drawn;
    this.pictures = svgs.map((svg, at) => labelledSvg(svg, this.#alternative(at + 1, svgs.length)));
  }

  /** The finding in one sentence; of several pictures each says which it is. */
  #alternative(part: number, parts: number): string {
    const { alternative } = this.chart;
    if (parts === 1) return this.words.text(alternative);
    return this.words.text({ id: "chart.part", values: { part, parts, alternative } });
  }

  /** The pictures as they stand in the figure of the page that has this id: each moves by itself where it is too wide. */
  inFigure(id: string): OwnMarkup {
    const opening = `<div class="drawing" role="group" aria-labelledby="${escapeText(id)}-title" tabindex="0">`;
    return new OwnMarkup(this.pictures.map(({ text }) => `${opening}${text}</div>`).join("\n"));
  }
}

/** Waits for all drawings that stand anywhere in a view. */
export async function finishDrawings(view: unknown): Promise<void> {
  await Promise.all(drawingsIn(view).map((drawing) => drawing.finished()));
}

/** The drawings that stand anywhere in a view, in its order. */
export function drawingsIn(view: unknown): Drawing[] {
  if (view instanceof Drawing) return [view];
  if (typeof view !== "object" || view === null) return [];
  return Object.values(view).flatMap(drawingsIn);
}
