import { describe, expect, it } from "vitest";
import { calendarTicks, dayNumber } from "../../src/render/charts/calendar.js";
import { drawChart } from "../../src/render/charts/draw.js";
import { picturesOf } from "../../src/render/charts/index.js";
import { keyOf } from "../../src/render/charts/key.js";
import { heightIn } from "../../src/render/charts/picture.js";
import { theme } from "../../src/render/charts/theme.js";
import { roundsInOrder } from "../../src/render/charts/tiles.js";
import { loadWords } from "../../src/render/words.js";
import type { Chart } from "../../src/results/schema.js";
import {
  againstChanceChart,
  roundsChart,
  sampleComparison,
  sampleDifferences,
  sampleSummaries,
  sampleWords,
} from "./sample-comparison.js";

const words = loadWords("en", sampleWords);

const roundsOf = (places: number, rounds: number): Chart => {
  const summaries = sampleSummaries(places, rounds);
  return roundsChart(summaries, sampleDifferences(summaries));
};
type Tiles = Extract<Chart, { kind: "tiles" }>;
const tilesOf = (places: number, rounds: number): Tiles =>
  sampleComparison(places, rounds)
    .sections.flatMap((section) => section.blocks.flatMap((block) => block.charts))
    .find((chart) => chart.kind === "tiles") as Tiles;
const textsOf = (svg: string): string[] => [...svg.matchAll(/<text\b[^>]*>([^<]*)</g)].map((match) => match[1] ?? "");
const sizeOf = (svg: string, side: "width" | "height"): number =>
  Number(new RegExp(`<svg[^>]* ${side}="([\\d.]+)"`).exec(svg)?.[1]);

/** What a printed page holds of a picture, px before it is made smaller for print. */
const pageHeight = 1_100;

const samples: readonly (readonly [string, Chart])[] = [
  ["rounds of one place", roundsOf(1, 4)],
  ["rounds of three places", roundsOf(3, 3)],
  ["rounds of twelve places", roundsOf(12, 3)],
  ["rounds of many places", roundsOf(70, 2)],
  ["rows against chance", againstChanceChart(36)],
  ["two figures against chance", againstChanceChart(60, 2)],
  ["a funnel", againstChanceChart(500)],
  ["tiles", tilesOf(12, 3)],
  ["many tiles", tilesOf(110, 1)],
];

describe("pictures of comparisons", () => {
  it.each(samples)("%s: fit the column and a page, are labelled, hold no NaN", async (_, chart) => {
    const drawn = await drawChart(chart, words);
    expect(drawn.length).toBeGreaterThan(0);
    for (const { text } of drawn) {
      expect(text).toMatch(/^<svg class="chart" role="img" aria-label="[^"]{3,}"/);
      expect(sizeOf(text, "width")).toBeGreaterThan(300);
      expect(sizeOf(text, "width")).toBeLessThanOrEqual(theme.width + 2);
      expect(sizeOf(text, "height")).toBeLessThan(pageHeight);
      expect(text).not.toMatch(/NaN|undefined|null|Infinity|http|<script|\[\[/);
    }
    for (const { label } of keyOf(chart)) expect(words.text(label)).not.toMatch(/\[\[/);
  });
});

describe("rounds", () => {
  it("write the last value of every place, and say in words which changed clearly", async () => {
    const chart = roundsOf(30, 2) as Extract<Chart, { kind: "rounds" }>;
    const drawn = (await drawChart(chart, words)).flatMap(({ text }) => textsOf(text));
    const lasts = chart.panels.map((panel) => words.number(panel.points.at(-1)?.value, "share"));
    for (const last of lasts) expect(drawn).toContain(last);
    const clear = words.text({ id: "chart.clear-change", values: {} });
    expect(drawn.filter((text) => text === clear)).toHaveLength(chart.panels.filter((panel) => panel.emphasis).length);
  });

  it("leave out an earlier value where it would run into another", async () => {
    const chart = roundsOf(1, 2) as Extract<Chart, { kind: "rounds" }>;
    const [panel] = chart.panels;
    if (panel === undefined) throw new Error("no panel");
    const close = panel.points.map((point, i) => ({ ...point, value: 0.1023 + i / 100, day: `2025-05-0${i + 1}` }));
    const drawn = await drawChart({ ...chart, panels: [{ ...panel, points: close }] }, words);
    const texts = drawn.flatMap(({ text }) => text.match(/\d+\.\d%/g) ?? []);
    expect(texts).toContain("11.2%");
    expect(texts).not.toContain("10.2%");
  });

  it("tick the firsts of months by universal time, with the year where it begins", () => {
    const ticks = calendarTicks(dayNumber("2024-10-20"), dayNumber("2025-03-15"), 300, words);
    expect(ticks.map(({ at }) => at)).toEqual(
      ["2024-11-01", "2024-12-01", "2025-01-01", "2025-02-01", "2025-03-01"].map(dayNumber),
    );
    expect(ticks.map(({ lines }) => lines.at(1))).toEqual(["2024", undefined, "2025", undefined, undefined]);
    // From 1970-01-01: 54 years, 13 leap days before 2024, and the 305 days of 2024 before November.
    expect(ticks[0]?.at).toBe(54 * 365 + 13 + 305);
  });

  it("tick years alone over many years", () => {
    const ticks = calendarTicks(dayNumber("2005-06-01"), dayNumber("2025-06-01"), 150, words);
    expect(ticks.length).toBeGreaterThan(1);
    expect(ticks.length).toBeLessThan(8);
    for (const { lines } of ticks) expect(lines).toEqual([expect.stringMatching(/^20[0-9]{2}$/)]);
  });

  it("stand low at the bottom of their frame", () => {
    const frame = { x: 0, y: 10, width: 50, height: 100 };
    expect(heightIn(frame, [0, 0.2], 0)).toBe(110);
    expect(heightIn(frame, [0, 0.2], 0.05)).toBe(85);
  });
});

describe("against chance", () => {
  it("is rows up to sixty surveys, forty to a picture at most, and one funnel above", () => {
    expect(picturesOf(againstChanceChart(40), words)).toHaveLength(1);
    expect(picturesOf(againstChanceChart(41), words)).toHaveLength(2);
    expect(picturesOf(againstChanceChart(60), words)).toHaveLength(2);
    expect(picturesOf(againstChanceChart(61), words)).toHaveLength(1);
    expect(picturesOf(againstChanceChart(61, 3), words)).toHaveLength(3);
  });

  it("says the name of a panel over its rows, and under them only where it had to be cut", () => {
    const chart = againstChanceChart(5, 2) as Extract<Chart, { kind: "against-chance" }>;
    const label = (axis: string) => ({ id: "chart.axis-with-unit", values: { axis, unit: "z" } });
    const [short, long] = [
      label("Spread"),
      label("Children on whole years over those expected by their neighbours in age, of all"),
    ];
    const named = { ...chart, panels: chart.panels.map((panel, at) => ({ ...panel, label: at === 0 ? short : long })) };
    const [first, second] = picturesOf(named, words).map(({ marks }) =>
      marks.texts.map((text) => text.text.replaceAll("\n", " ")),
    );
    expect(first?.filter((text) => text === words.text(short))).toHaveLength(1);
    expect(second?.filter((text) => text.startsWith("Children on whole"))).toHaveLength(2);
    expect(second).toContain(words.text(long));
  });

  it("keeps the order of the rows", async () => {
    const chart = againstChanceChart(45) as Extract<Chart, { kind: "against-chance" }>;
    const labels = chart.panels[0]?.rows.map((row) => row.label) ?? [];
    const drawn = (await drawChart(chart, words)).flatMap(({ text }) => textsOf(text));
    expect(drawn.filter((text) => labels.includes(text))).toEqual(labels);
  });

  it("names in a funnel only surveys outside the limits, and counts all of them", async () => {
    const chart = againstChanceChart(120) as Extract<Chart, { kind: "against-chance" }>;
    const rows = chart.panels[0]?.rows ?? [];
    const outside = rows.filter((row) => row.value > (row.chanceHigh ?? 1) || row.value < (row.chanceLow ?? 0));
    const drawn = (await drawChart(chart, words)).flatMap(({ text }) => textsOf(text));
    const named = drawn.filter((text) => rows.some((row) => row.label === text));
    expect(named.length).toBeGreaterThan(2);
    for (const label of named) expect(outside.map((row) => row.label)).toContain(label);
    expect(drawn.join(" ")).toContain(`${outside.length} of 120`);
  });
});

describe("tiles", () => {
  it("stand as the user laid them out in Arabic too, and follow the direction of writing otherwise", async () => {
    const arabic = loadWords("ar");
    const laid = { ...tilesOf(3, 1), tiles: tilesOf(3, 1).tiles.map((tile, column) => ({ ...tile, row: 0, column })) };
    /** Places across the finished drawing at which the names begin, in the order of the tiles. */
    const acrossOf = async (chart: Tiles): Promise<number[]> => {
      const [drawn] = await drawChart(chart, arabic);
      const [, shift] = /<g transform="translate\(([\d.]+)(?:,0)?\) scale\(-1,1\)"/.exec(drawn?.text ?? "") ?? [];
      return chart.tiles.map(({ label }) => {
        const [, x] =
          [...(drawn?.text ?? "").matchAll(/<text[^>]*transform="translate\(([\d.]+),[^>]*>([\s\S]*?)<\/text>/g)].find(
            (match) => match[2]?.includes(label.split(" ")[0] ?? ""),
          ) ?? [];
        return Number(shift) - Number(x);
      });
    };
    const [west = 0, middle = 0, east = 0] = await acrossOf({ ...laid, asMap: true });
    expect(west).toBeLessThan(middle);
    expect(middle).toBeLessThan(east);
    const [first = 0, second = 0] = await acrossOf(laid);
    expect(first).toBeGreaterThan(second);
  });

  it("bear the name and last value of every place, over several pictures where there are many", async () => {
    const chart = tilesOf(110, 1);
    const drawn = await drawChart(chart, words);
    expect(drawn.length).toBeGreaterThan(1);
    const texts = drawn.flatMap(({ text }) => textsOf(text));
    for (const tile of chart.tiles) expect(texts.join(" ")).toContain(tile.label.split(" ")[0]);
    expect(texts.filter((text) => /^\d+\.\d%$/.test(text))).toHaveLength(110);
  });

  it("say a clear change by shape and word", async () => {
    const chart = tilesOf(12, 3);
    const rose = chart.tiles.filter((tile) => tile.verdict === "rise").length;
    expect(rose).toBeGreaterThan(0);
    const [drawn] = await drawChart(chart, words);
    const word = words.text({ id: "chart.verdict.rise", values: {} });
    expect(textsOf(drawn?.text ?? "").filter((text) => text === word)).toHaveLength(rose);
  });

  it("put a round that some places lack after the one it follows elsewhere", () => {
    const point = (label: string) => ({ label, value: 0.1, low: null, high: null });
    const tile = (labels: string[]) => ({ label: "", row: 0, column: 0, verdict: null, points: labels.map(point) });
    const chart = { ...tilesOf(4, 1), tiles: [tile(["a", "d"]), tile(["a", "b"]), tile(["b", "c", "d"])] };
    expect(roundsInOrder(chart)).toEqual(["a", "b", "c", "d"]);
  });
});
