import * as vega from "vega";
import * as vegaLite from "vega-lite";
import type { Chart } from "../../results/schema.js";
import { fromRightToLeft } from "../isolate.js";
import type { Words } from "../words.js";
import type { Figure, Row, Spec } from "./figure.js";
import { figuresOf } from "./figures.js";
import { localeOf } from "./locale.js";
import { textWidth } from "./text-width.js";
import { theme } from "./theme.js";

/**
 * Where there is no canvas, Vega guesses how wide a text is, and has no option for it: its measure is replaced by the table of
 * the embedded face's widths.
 */
const metrics = (vega as unknown as { textMetrics: { width: (item: TextItem, text: unknown) => number } }).textMetrics;
interface TextItem {
  readonly fontSize?: number;
  readonly fontWeight?: number | string;
}
metrics.width = (item, text) => {
  const isBold = Number(item.fontWeight) >= 600 || item.fontWeight === "bold";
  return textWidth(String(text ?? ""), item.fontSize ?? 11, isBold ? 600 : 400);
};

type Runtime = ReturnType<typeof vega.parse>;
/** What differs in nothing but its data is compiled once. */
const compiled = new Map<string, Runtime>();

/** The look of all figures, with the language's way of writing numbers and months. */
export function configIn(words: Words): Spec {
  const { legend, ...config } = theme.config;
  const end = words.direction === "rtl" ? { layout: { bottom: { anchor: "end" } } } : {};
  return { ...config, legend: { ...(legend as Spec), ...end }, locale: localeOf(words) };
}

function runtimeOf(spec: Spec, words: Words): Runtime {
  const text = `${words.language} ${JSON.stringify(spec)}`;
  const known = compiled.get(text);
  if (known !== undefined) return known;
  const config = configIn(words);
  const logger = vega.logger(vega.Error);
  const made = vegaLite.compile(spec as unknown as Parameters<typeof vegaLite.compile>[0], { config, logger }).spec;
  const runtime = vega.parse(made, config as never);
  compiled.set(text, runtime);
  return runtime;
}

/** What has no place cannot be drawn: results that were changed by hand may hold anything. */
const isDrawable = (row: Row): boolean =>
  Object.values(row).every((value) => typeof value !== "number" || Number.isFinite(value));

/** One picture as an SVG text, without browser or canvas. Throws where the library stumbles over it. */
export async function svgOf({ spec, datasets }: Figure, words: Words): Promise<string> {
  let failure: unknown;
  const logger = vega.logger(vega.None);
  // What Vega stumbles over it would print with its stack.
  logger.error = (...reasons: readonly unknown[]) => {
    failure ??= reasons[0];
    return logger;
  };
  const view = new vega.View(runtimeOf(spec, words), { renderer: "none", logger });
  try {
    for (const [name, rows] of Object.entries(datasets)) view.data(name, rows.filter(isDrawable) as object[]);
    const svg = await view.toSVG();
    if (failure !== undefined) throw new Error("A picture cannot be drawn.", { cause: failure });
    return tidySvg(svg, words.direction);
  } finally {
    view.finalize();
  }
}

/** The pictures of a chart as SVG, in these words. */
export async function chartSvgs(chart: Chart, words: Words): Promise<readonly string[]> {
  const svgs: string[] = [];
  for (const figure of figuresOf(chart, words)) svgs.push(await svgOf(figure, words));
  return svgs;
}

/**
 * A drawing without what it does not need: roles of its parts, namespace addresses, the faces of its letters, what goes without
 * saying, more than two decimals. From right to left every text carries its direction in itself, since not every program that
 * draws SVG knows of directions.
 */
export function tidySvg(drawn: string, direction: Words["direction"] = "ltr"): string {
  const tidy = (tag: string): string =>
    tag
      .replace(/ xmlns(:xlink)?="[^"]*"/g, "")
      .replace(/ (class|version|role|aria-[a-z]+|pointer-events|stroke-miterlimit)="[^"]*"/g, "")
      .replace(/ (font-family="[^"]*"|font-weight="400"|opacity="1")/g, "")
      .replace(/-?\d+\.\d{3,}/g, (number) => String(Math.round(Number(number) * 100) / 100));
  // Tags only: a label that happens to look like one of these stays as it is.
  const svg = drawn.replace(/<[^>]*>/g, tidy);
  if (direction === "ltr") return svg;
  return svg
    .replace(/^<svg/, '<svg direction="ltr"')
    .replace(/(<t(?:ext|span)[^>]*>)([^<]+)/g, (_, tag: string, text: string) => tag + fromRightToLeft(text));
}
