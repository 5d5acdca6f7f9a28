import type { Chart } from "../results/schema.js";
import { configIn, svgOf } from "./charts/draw-svg.js";
import { drawingsIn } from "./charts/drawing.js";
import { standalone } from "./charts/figure.js";
import { figuresOf } from "./charts/figures.js";
import { pngOf } from "./docx/raster.js";
import type { Words } from "./words.js";
import type { OutputFile } from "./write.js";

/** Faces for whoever opens a figure without the report, in which the letters fit. */
const faces = "Source Sans 3, Calibri, Carlito, Arial, sans-serif";

/**
 * Every figure of a page as files of its own: a drawing, its pixels, and the specification with its data, which any editor of the
 * grammar opens. The three show the same, with the figure's title.
 */
export async function figureFiles(view: unknown, words: Words): Promise<OutputFile[]> {
  const charts = new Map(drawingsIn(view).map(({ chart }) => [chart.id, chart]));
  const files: OutputFile[] = [];
  for (const chart of charts.values()) files.push(...(await filesOf(chart, words)));
  return files;
}

async function filesOf(chart: Chart, words: Words): Promise<OutputFile[]> {
  const figures = figuresOf(chart, words);
  const files: OutputFile[] = [];
  for (const [at, figure] of figures.entries()) {
    const name = `figures/${chart.id}${figures.length === 1 ? "" : `-${at + 1}`}`;
    const whole = standalone(figure, words.text(chart.title), configIn(words));
    const svg = await svgOf({ spec: { ...figure.spec, title: whole.title }, datasets: figure.datasets }, words);
    const drawn = svg.replace(/^<svg/, `<svg xmlns="http://www.w3.org/2000/svg" font-family="${faces}"`);
    files.push(
      { name: `${name}.svg`, content: `${drawn}\n` },
      { name: `${name}.png`, content: await pngOf(drawn) },
      { name: `${name}.vl.json`, content: `${JSON.stringify(whole, null, 1)}\n` },
    );
  }
  return files;
}
