import { afterEach, describe, expect, it, vi } from "vitest";
import { svgOf } from "../../src/render/charts/draw-svg.js";
import { picturesOf } from "../../src/render/charts/index.js";
import { type Marks, type Picture, text, together } from "../../src/render/charts/picture.js";
import { templateText } from "../../src/render/templates.js";
import { loadWords } from "../../src/render/words.js";
import type { Chart } from "../../src/results/schema.js";
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
const pictures: readonly Picture[] = charts.flatMap((chart) => picturesOf(chart, words));

const pictureOf = (width: number, height: number, marks: Partial<Marks>): Picture => ({
  width,
  height,
  marks: together([marks]),
});
const sizeOf = (svg: string): string => /width="[\d.]+" height="[\d.]+"/.exec(svg)?.[0] ?? "";

describe("one view for all pictures", () => {
  afterEach(() => vi.resetModules());

  it("draws each as if it were the only one, whatever was drawn before it", async () => {
    expect(pictures.length).toBeGreaterThan(10);
    const forwards: string[] = [];
    for (const picture of pictures) forwards.push(await svgOf(picture));
    const backwards: string[] = [];
    for (const picture of [...pictures].reverse()) backwards.unshift(await svgOf(picture));
    expect(backwards).toEqual(forwards);
    for (const [i, picture] of pictures.entries()) {
      vi.resetModules();
      const fresh = await import("../../src/render/charts/draw-svg.js");
      expect(await fresh.svgOf(picture)).toBe(forwards[i]);
    }
  }, 60_000);

  it("draws pictures asked for at once one after the other", async () => {
    const alone: string[] = [];
    for (const picture of pictures) alone.push(await svgOf(picture));
    expect(await Promise.all(pictures.map(svgOf))).toEqual(alone);
  });

  it("finds the room for names anew in a picture as large as the one before", async () => {
    const short = pictureOf(100, 50, { texts: [text(-30, 20, "A")] });
    const long = pictureOf(100, 50, { texts: [text(-90, 20, "A"), text(0, -40, "B")] });
    const [before, between, after] = [await svgOf(short), await svgOf(long), await svgOf(short)];
    expect(sizeOf(between)).not.toBe(sizeOf(before));
    expect(after).toBe(before);
  });

  it("leaves out what has no place", async () => {
    const svg = await svgOf(
      pictureOf(100, 50, {
        texts: [text(Number.NaN, 20, "nowhere"), text(5, 20, "here")],
        rules: [{ x: 0, y: 5, x2: Number.POSITIVE_INFINITY, y2: 5, stroke: "#123456", width: 1 }],
        curves: [{ points: [1, Number.NaN, 3].map((x) => ({ x, y: 9 })), stroke: "#654321", width: 1 }],
      }),
    );
    expect(svg).toContain(">here<");
    expect(svg).toContain("#654321");
    expect(svg).not.toMatch(/nowhere|#123456|NaN|Infinity/);
  });
});

describe("marks", () => {
  it("cover each other kind by kind, and within a kind in their order", async () => {
    const box = { x: 0, y: 0, x2: 9, y2: 9, stroke: null, width: 0 };
    const svg = await svgOf(
      pictureOf(100, 50, {
        texts: [text(5, 20, "last")],
        points: [{ x: 5, y: 5, shape: "circle", size: 30, fill: "#000003", stroke: "#000003", width: 1 }],
        boxes: [
          { ...box, fill: "#000001" },
          { ...box, fill: "#000002" },
        ],
        grid: [{ x: 0, y: 5, x2: 9, y2: 5, stroke: "#000000", width: 1 }],
      }),
    );
    const order = ["#000000", "#000001", "#000002", "#000003", "last"].map((sign) => svg.indexOf(sign));
    expect(Math.min(...order)).toBeGreaterThan(-1);
    expect([...order].sort((a, b) => a - b)).toEqual(order);
  });

  it("place a text of several lines as a whole", () => {
    expect(text(0, 50, "a\nb\nc", { baseline: "bottom", lineHeight: 10 }).y).toBe(30);
    expect(text(0, 50, "a\nb\nc", { baseline: "middle", lineHeight: 10 }).y).toBe(40);
    expect(text(50, 0, "a\nb", { baseline: "bottom", lineHeight: 10, angle: -90 })).toMatchObject({ x: 40, y: 0 });
  });

  it("have letters of at least 7.5 points in print", () => {
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
    const smallest = (chart: Chart): number =>
      Math.min(...picturesOf(chart, words).flatMap(({ marks }) => marks.texts.map((each) => each.size)));
    const usual = Number(/\n {2}\.drawing \{\s*zoom: ([\d.]+)/.exec(css)?.[1]);
    for (const chart of charts) {
      const own = ["rounds", "tiles", "scenarios"].includes(chart.kind) ? zoomOf(`.${chart.kind}`) : usual;
      expect(smallest(chart) * own * 0.75, chart.kind).toBeGreaterThanOrEqual(7.5);
    }
    // The first page shows prevalences on their classes.
    expect(12 * zoomOf(".summary") * 0.75).toBeGreaterThanOrEqual(7.5);
  });
});
