import type { Chart } from "../../results/schema.js";
import { escapeText, OwnMarkup } from "../markup.js";
import type { Words } from "../words.js";
import { specsOf } from "./index.js";
import { textWidth } from "./text-width.js";
import { type Spec, theme } from "./theme.js";

/** A text item as Vega hands it to be measured. */
interface TextItem {
  readonly fontSize?: number;
  readonly fontWeight?: number | string;
}

/** Vega and Vega-Lite, loaded at the first chart, with text measured from the embedded face instead of guessed. */
async function loadVega() {
  const [vega, vegaLite] = await Promise.all([import("vega"), import("vega-lite")]);
  const metrics = (
    vega as unknown as {
      textMetrics: { width: (item: TextItem, text: unknown) => number };
    }
  ).textMetrics;
  metrics.width = (item, text) =>
    textWidth(
      String(text ?? ""),
      item.fontSize ?? 11,
      Number(item.fontWeight) >= 600 || item.fontWeight === "bold" ? 600 : 400,
    );
  return { vega, vegaLite };
}
let loading: ReturnType<typeof loadVega> | undefined;

/** One specification as an SVG string, without browser or canvas. */
async function svgOf(spec: Spec): Promise<string> {
  loading ??= loadVega();
  const { vega, vegaLite } = await loading;
  const compiled = vegaLite.compile({ ...spec } as unknown as Parameters<typeof vegaLite.compile>[0], {
    config: theme.config,
    logger: vega.logger(vega.Error),
  });
  const view = new vega.View(vega.parse(compiled.spec), { renderer: "none" });
  try {
    return await view.toSVG();
  } finally {
    view.finalize();
  }
}

/**
 * Makes a drawn chart ready to stand in the page: the text alternative on the outside, ids that no other figure has (Vega
 * counts them through the whole process), no roles on its parts, no namespace addresses, sizes with at most two decimals.
 */
export function finishSvg(svg: string, alternative: string, prefix: string): string {
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
      .replace(/ id="([^"]+)"/g, (_, id: string) => ` id="${renamed(id)}"`)
      .replace(/url\(#([^)]+)\)/g, (_, id: string) => `url(#${renamed(id)})`)
      .replace(/-?\d+\.\d{3,}/g, (number) => String(Math.round(Number(number) * 100) / 100));
  // Tags only: a label that happens to look like one of these stays as it is.
  const role = `class="chart" role="img" aria-label="${escapeText(alternative)}" focusable="false"`;
  return svg.replace(/<[^>]*>/g, tidy).replace(/^<svg/, () => `<svg ${role}`);
}

/** Draws a chart as static SVG. `figureId` goes before every id. A picture in several parts says its alternative once. */
export async function drawChart(chart: Chart, words: Words, figureId: string): Promise<OwnMarkup[]> {
  const alternative = words.text(chart.alternative);
  const drawn: OwnMarkup[] = [];
  for (const [at, spec] of specsOf(chart, words).entries()) {
    const text = at === 0 ? alternative : words.text({ id: "chart.continued", values: { title: chart.title } });
    drawn.push(new OwnMarkup(finishSvg(await svgOf(spec), text, `${figureId}-${at + 1}`)));
  }
  return drawn;
}
