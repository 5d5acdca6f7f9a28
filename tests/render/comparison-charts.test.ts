import { describe, expect, it } from "vitest";
import { figuresOf } from "../../src/render/charts/figures.js";
import { theme } from "../../src/render/charts/theme.js";
import { loadWords } from "../../src/render/words.js";
import type { Chart } from "../../src/results/schema.js";
import { acrossOf, drawn, sizeOf, textsIn } from "./drawn.js";
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
    const pictures = await drawn(chart, words);
    expect(pictures.length).toBeGreaterThan(0);
    for (const { text } of pictures) {
      expect(text).toMatch(/^<svg class="chart" role="img" aria-label="[^"]{3,}"/);
      expect(sizeOf(text, "width")).toBeGreaterThan(300);
      expect(sizeOf(text, "width")).toBeLessThanOrEqual(theme.width + 2);
      expect(sizeOf(text, "height")).toBeLessThan(pageHeight);
      expect(text).not.toMatch(/NaN|undefined|null|Infinity|http|<script|\[\[/);
    }
  });
});

describe("rounds", () => {
  it("write the last value of every place, and say in words which changed clearly", async () => {
    const chart = roundsOf(30, 2) as Extract<Chart, { kind: "rounds" }>;
    const texts = (await drawn(chart, words)).flatMap(({ text }) => textsIn(text));
    const lasts = chart.panels.map((panel) => words.number(panel.points.at(-1)?.value, "share"));
    for (const last of lasts) expect(texts).toContain(last);
    const clear = words.text({ id: "chart.clear-change", values: {} });
    expect(texts.filter((text) => text === clear)).toHaveLength(chart.panels.filter((panel) => panel.emphasis).length);
  });

  it("write months in the language, with the year where it begins", async () => {
    const chart = roundsOf(1, 2) as Extract<Chart, { kind: "rounds" }>;
    const [panel] = chart.panels;
    if (panel === undefined) throw new Error("no panel");
    const days = ["2024-11-10", "2025-02-20"];
    const points = panel.points.slice(0, 2).map((point, i) => ({ ...point, day: days[i] ?? "" }));
    const [picture] = await drawn({ ...chart, panels: [{ ...panel, points }] }, loadWords("fr"));
    const texts = textsIn(picture?.text ?? "");
    expect(texts.filter((text) => /^(nov|d\u00e9c|janv|f\u00e9vr|mars)\.?$/.test(text)).slice(0, 4)).toEqual([
      "nov.",
      "d\u00e9c.",
      "janv.",
      "f\u00e9vr.",
    ]);
    expect(texts.filter((text) => /^20\d\d$/.test(text))).toEqual(["2024", "2025"]);
  });

  it("write years alone over many years", async () => {
    const chart = roundsOf(1, 2) as Extract<Chart, { kind: "rounds" }>;
    const [panel] = chart.panels;
    if (panel === undefined) throw new Error("no panel");
    const points = panel.points
      .slice(0, 2)
      .map((point, i) => ({ ...point, day: i === 0 ? "2001-06-01" : "2025-06-01" }));
    const [picture] = await drawn({ ...chart, panels: [{ ...panel, points }] }, words);
    const years = textsIn(picture?.text ?? "").filter((text) => /^20\d\d$/.test(text));
    expect(years.length).toBeGreaterThan(2);
    expect(years).toEqual([...years].sort());
    expect(textsIn(picture?.text ?? "")).not.toContain("Jan");
  });

  it("run from earlier to later from left to right in Arabic too", async () => {
    const [picture] = await drawn(roundsOf(1, 4), loadWords("ar"));
    const svg = picture?.text ?? "";
    const dots = [...svg.matchAll(/<path transform="translate\(([\d.]+),[\d.]+\)"/g)].map((match) => Number(match[1]));
    expect(dots.length).toBeGreaterThan(3);
    const last = acrossOf(svg, (text) => /\d+\.\d/.test(text));
    expect(last.length).toBeGreaterThan(1);
    expect(Math.max(...last)).toBe(last.at(-1));
  });
});

describe("against chance", () => {
  it("is rows up to sixty surveys, forty to a picture at most, and one funnel above", () => {
    expect(figuresOf(againstChanceChart(40), words)).toHaveLength(1);
    expect(figuresOf(againstChanceChart(41), words)).toHaveLength(2);
    expect(figuresOf(againstChanceChart(60), words)).toHaveLength(2);
    expect(figuresOf(againstChanceChart(61), words)).toHaveLength(1);
    expect(figuresOf(againstChanceChart(61, 3), words)).toHaveLength(3);
  });

  it("says the name of a panel over its rows, and under them only where it had to be cut", async () => {
    const chart = againstChanceChart(5, 2) as Extract<Chart, { kind: "against-chance" }>;
    const label = (axis: string) => ({ id: "chart.axis-with-unit", values: { axis, unit: "z" } });
    const [short, long] = [
      label("Spread"),
      label("Children on whole years over those expected by their neighbours in age, of all"),
    ];
    const named = { ...chart, panels: chart.panels.map((panel, at) => ({ ...panel, label: at === 0 ? short : long })) };
    const [first, second] = (await drawn(named, words)).map(({ text }) => textsIn(text).join(" "));
    expect(first?.split(words.text(short))).toHaveLength(2);
    expect(second?.split("Children on whole")).toHaveLength(3);
    expect(second).toContain(words.text(long));
  });

  it("keeps the order of the rows", async () => {
    const chart = againstChanceChart(45) as Extract<Chart, { kind: "against-chance" }>;
    const labels = chart.panels[0]?.rows.map((row) => row.label) ?? [];
    const texts = (await drawn(chart, words)).flatMap(({ text }) => textsIn(text));
    expect(texts.filter((text) => labels.some((label) => label === text))).toEqual(labels);
  });

  it("names in a funnel only surveys outside the limits, and counts all of them", async () => {
    const chart = againstChanceChart(120) as Extract<Chart, { kind: "against-chance" }>;
    const rows = chart.panels[0]?.rows ?? [];
    const outside = rows.filter((row) => row.value > (row.chanceHigh ?? 1) || row.value < (row.chanceLow ?? 0));
    const texts = (await drawn(chart, words)).flatMap(({ text }) => textsIn(text));
    const named = texts.filter((text) => rows.some((row) => row.label === text));
    expect(named.length).toBeGreaterThan(2);
    for (const label of named) expect(outside.map((row) => row.label)).toContain(label);
    expect(texts.join(" ")).toContain(`${outside.length} of 120`);
  });
});

describe("tiles", () => {
  it("stand as the user laid them out in Arabic too, and follow the direction of writing otherwise", async () => {
    const arabic = loadWords("ar");
    const laid = { ...tilesOf(3, 1), tiles: tilesOf(3, 1).tiles.map((tile, column) => ({ ...tile, row: 0, column })) };
    const placesOf = async (chart: Tiles): Promise<number[]> => {
      const [picture] = await drawn(chart, arabic);
      const nameOf = (label: string) => label.split(" ")[0] ?? "";
      return chart.tiles.map(
        ({ label }) => acrossOf(picture?.text ?? "", (text) => text.includes(nameOf(label)))[0] ?? Number.NaN,
      );
    };
    const [west = 0, middle = 0, east = 0] = await placesOf({ ...laid, asMap: true });
    expect(west).toBeLessThan(middle);
    expect(middle).toBeLessThan(east);
    const [first = 0, second = 0] = await placesOf(laid);
    expect(first).toBeGreaterThan(second);
  });

  it("bear the name and last value of every place, over several pictures where there are many", async () => {
    const chart = tilesOf(110, 1);
    const pictures = await drawn(chart, words);
    expect(pictures.length).toBeGreaterThan(1);
    const texts = pictures.flatMap(({ text }) => textsIn(text));
    for (const tile of chart.tiles) expect(texts.join(" ")).toContain(tile.label.split(" ")[0]);
    expect(texts.filter((text) => /^\d+\.\d%$/.test(text))).toHaveLength(110);
  });

  it("say a clear change by shape and word", async () => {
    const chart = tilesOf(12, 3);
    const rose = chart.tiles.filter((tile) => tile.verdict === "rise").length;
    expect(rose).toBeGreaterThan(0);
    const [picture] = await drawn(chart, words);
    const word = words.text({ id: "chart.verdict.rise", values: {} });
    expect(textsIn(picture?.text ?? "").filter((text) => text === word)).toHaveLength(rose);
  });

  it("put a round that some places lack after the one it follows elsewhere", async () => {
    const point = (label: string) => ({ label, value: 0.1, low: null, high: null });
    const tile = (column: number, labels: string[]) => ({
      ...{ label: `P${column}`, row: 0, column, verdict: null, points: labels.map(point) },
    });
    const chart = { ...tilesOf(4, 1), tiles: [tile(0, ["a", "d"]), tile(1, ["a", "b"]), tile(2, ["b", "c", "d"])] };
    const [picture] = await drawn(chart, words);
    const said = words.text({ id: "key.tile-rounds", values: { rounds: ["a", "b", "c", "d"], count: 4 } });
    expect(textsIn(picture?.text ?? "")).toContain(said);
  });
});
