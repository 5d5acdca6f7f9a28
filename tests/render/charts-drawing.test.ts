import * as vega from "vega";
import * as vegaLite from "vega-lite";
import { describe, expect, it } from "vitest";
import { configIn, svgOf, tidySvg } from "../../src/render/charts/draw-svg.js";
import { type Figure, type Spec, standalone } from "../../src/render/charts/figure.js";
import { figuresOf } from "../../src/render/charts/figures.js";
import { templateText } from "../../src/render/templates.js";
import { loadWords } from "../../src/render/words.js";
import type { Chart } from "../../src/results/schema.js";
import { textsIn } from "./drawn.js";
import {
  againstChanceChart,
  roundsChart,
  sampleComparison,
  sampleDifferences,
  sampleSummaries,
} from "./sample-comparison.js";
import { sampleResults, withConsequence } from "./sample-results.js";

const words = loadWords("en");
const full = withConsequence(sampleResults);
const summaries = sampleSummaries(5, 3);
const tiles = sampleComparison(6, 2)
  .sections.flatMap((section) => section.blocks.flatMap((block) => block.charts))
  .find((chart) => chart.kind === "tiles");
const charts: readonly Chart[] = [
  ...full.checks.flatMap((check) => check.charts),
  ...(full.consequence?.charts ?? []),
  againstChanceChart(12),
  againstChanceChart(90, 2),
  roundsChart(summaries, sampleDifferences(summaries)),
  ...(tiles === undefined ? [] : [tiles]),
];
const figures: readonly Figure[] = charts.flatMap((chart) => figuresOf(chart, words));

describe("figures drawn by what is compiled once", () => {
  it("are drawn each as if it were the only one, whatever was drawn before it", async () => {
    expect(figures.length).toBeGreaterThan(10);
    const forwards: string[] = [];
    for (const figure of figures) forwards.push(await svgOf(figure, words));
    const backwards: string[] = [];
    for (const figure of [...figures].reverse()) backwards.unshift(await svgOf(figure, words));
    expect(backwards).toEqual(forwards);
    expect(await Promise.all(figures.map((figure) => svgOf(figure, words)))).toEqual(forwards);
  }, 60_000);

  it("leave out what has no place", async () => {
    const point = { mark: "text", encoding: { x: { field: "x", type: "quantitative" }, text: { field: "name" } } };
    const rows = [
      { x: Number.NaN, name: "nowhere" },
      { x: Number.POSITIVE_INFINITY, name: "beyond" },
      { x: 5, name: "here" },
    ];
    const svg = await svgOf({ spec: { data: { name: "rows" }, ...point }, datasets: { rows } }, words);
    expect(textsIn(svg)).toContain("here");
    expect(svg).not.toMatch(/nowhere|beyond|NaN|Infinity/);
  });

  it("fail where the library stumbles over them", async () => {
    const spec = { data: { name: "rows" }, mark: { type: "text", text: { expr: "warn(datum, 1) + throwing(" } } };
    await expect(svgOf({ spec, datasets: { rows: [{}] } }, words)).rejects.toThrow();
  });
});

describe("a figure as a file of its own", () => {
  it.each(figures.map((figure, at) => [at, figure] as const))(
    "%i is drawn alike by the library alone",
    async (_, figure) => {
      const whole: Spec = JSON.parse(JSON.stringify(standalone(figure, "A title", configIn(words))));
      const warnings: string[] = [];
      const logger = vega.logger(vega.Warn);
      logger.warn = (...said: readonly unknown[]) => {
        warnings.push(said.join(" "));
        return logger;
      };
      const { spec } = vegaLite.compile(whole as unknown as Parameters<typeof vegaLite.compile>[0], { logger });
      const svg = tidySvg(await new vega.View(vega.parse(spec), { renderer: "none" }).toSVG());
      const own = textsIn(await svgOf(figure, words));
      for (const text of own) expect(textsIn(svg)).toContain(text);
      expect(textsIn(svg)).toContain("A title");
      // A legend's order is that of its entries, though the library takes shapes for values without an order.
      expect(warnings.filter((said) => !said.includes("does not encode order"))).toEqual([]);
    },
  );
});

describe("letters", () => {
  it("have at least 7.5 points in print", async () => {
    const css = templateText("style/print.css");
    const zoomOf = (selector: string): number => {
      const rule = new RegExp(
        `(?:^|,\\s*)\\s*${selector.replace(".", "\\.")} \\.drawing(?:,[^{]*)? \\{\\s*zoom: ([\\d.]+)`,
        "m",
      );
      const zoom = Number(rule.exec(css)?.[1]);
      expect(zoom).toBeGreaterThan(0.5);
      return zoom;
    };
    const usual = Number(/\n {2}\.drawing \{\s*zoom: ([\d.]+)/.exec(css)?.[1]);
    for (const chart of charts) {
      const own = ["rounds", "tiles"].includes(chart.kind) ? zoomOf(`.${chart.kind}`) : usual;
      const svgs = await Promise.all(figuresOf(chart, words).map((figure) => svgOf(figure, words)));
      const sizes = svgs.flatMap((svg) =>
        [...svg.matchAll(/font-size="([\d.]+)px"/g)].map((match) => Number(match[1])),
      );
      expect(sizes.length).toBeGreaterThan(0);
      expect(Math.min(...sizes) * own * 0.75, chart.kind).toBeGreaterThanOrEqual(7.5);
    }
    // The first page shows prevalences on their classes.
    expect(12 * zoomOf(".summary") * 0.75).toBeGreaterThanOrEqual(7.5);
  });
});
