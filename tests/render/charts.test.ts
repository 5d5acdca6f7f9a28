import { readFileSync } from "node:fs";
import { create } from "fontkit";
import { describe, expect, it } from "vitest";
import { axisOf, roundRange } from "../../src/render/charts/axis.js";
import { tidySvg } from "../../src/render/charts/draw-svg.js";
import { labelledSvg } from "../../src/render/charts/drawing.js";
import { localeOf } from "../../src/render/charts/locale.js";
import { textWidth, wrapAtMost, wrapText } from "../../src/render/charts/text-width.js";
import { theme } from "../../src/render/charts/theme.js";
import { loadWords } from "../../src/render/words.js";
import { notStated } from "../../src/results/group.js";
import type { Chart, ChartKind } from "../../src/results/schema.js";
import { drawn, sizeOf, textsIn } from "./drawn.js";
import { sampleResults, withConsequence } from "./sample-results.js";

const more = JSON.parse(readFileSync("tests/render/sample-words.json", "utf8")) as Record<string, string>;
const words = loadWords("en", more);
const full = withConsequence(sampleResults);
const charts: readonly Chart[] = [...full.checks.flatMap((check) => check.charts), ...(full.consequence?.charts ?? [])];
const bands: Chart = {
  kind: "prevalence-bands",
  id: "bands",
  title: { id: "axis.prevalence", values: {} },
  alternative: { id: "axis.prevalence", values: {} },
  rows: [0.02, 0.4].map((value, i) => ({
    label: `row ${i}`,
    value,
    low: value * 0.8,
    high: value * 1.2,
    n: 300,
    of: notStated,
    bands: [0, 0.025, 0.1 + i * 0.1].map((from, at, all) => ({
      from,
      to: all[at + 1] ?? 1,
      label: { id: "class.low", values: {} },
    })),
  })),
};
const all = [...charts, bands];

const widthOf = (svg: string): number => sizeOf(svg, "width");

describe("drawing", () => {
  it("has a sample of every kind of chart", () => {
    const kinds: readonly ChartKind[] = [
      "category-shares",
      "z-distribution",
      "counts-over",
      "intervals",
      "prevalence-bands",
      "lines",
    ];
    expect([...new Set(all.map((chart) => chart.kind))].sort()).toEqual([...kinds].sort());
  });

  it.each(all)("$kind $id fits the column, is labelled, and carries no script, address or NaN", async (chart) => {
    const pictures = await drawn(chart, words);
    expect(pictures.length).toBeGreaterThan(0);
    for (const { text } of pictures) {
      expect(text).toMatch(/^<svg class="chart" role="img" aria-label="[^"]{3,}"/);
      expect(widthOf(text)).toBeGreaterThan(300);
      expect(widthOf(text)).toBeLessThanOrEqual(theme.width + 2);
      expect(text).not.toMatch(/NaN|undefined|null|Infinity|http|<script|\[\[/);
      // Nothing of the sample is so long that it has to be cut.
      expect(text).not.toContain("\u2026");
    }
  });

  it("escapes hostile labels and alternatives", async () => {
    const hostile = "<script>alert(1)</script>\"' onload=x";
    const chart: Chart = {
      kind: "intervals",
      id: "x",
      title: { id: "axis.children", values: {} },
      alternative: { id: "chart.n", values: { n: hostile } },
      x: { label: { id: "chart.n", values: { n: hostile } }, unit: "z" },
      lines: [{ at: 0, label: { id: "chart.n", values: { n: hostile } } }],
      rows: [{ of: notStated, label: hostile, value: 1, low: 0, high: 2, n: 100 }],
    };
    const svg = (await drawn(chart, words))[0]?.text ?? "";
    expect(svg).not.toContain("<script");
    expect(svg.replace(/aria-label="[^"]*"/, "").replace(/>[^<]*</g, "><")).not.toContain("onload");
  });

  it("survives empty, constant and missing values", async () => {
    const base = {
      id: "x",
      title: { id: "axis.children", values: {} },
      alternative: { id: "axis.children", values: {} },
    };
    const axis = { label: { id: "axis.children", values: {} }, unit: "z" as const };
    const poor: Chart[] = [
      {
        ...base,
        kind: "intervals",
        x: axis,
        lines: [],
        rows: [{ of: notStated, label: "a", value: null, low: null, high: null, n: 3 }],
      },
      {
        ...base,
        kind: "intervals",
        x: axis,
        lines: [],
        rows: [{ of: notStated, label: "a", value: 1, low: 1, high: 1, n: 3 }],
      },
      {
        ...base,
        kind: "z-distribution",
        panels: [{ of: notStated, label: "a", n: 0, mean: 0, standardDeviation: 0, bins: [] }],
      },
      {
        of: notStated,
        ...base,
        kind: "counts-over",
        x: { ...axis, unit: "month" },
        bars: [{ at: 6, count: 0, expected: 0, low: 0, high: 0, emphasis: false }],
      },
      {
        ...base,
        kind: "lines",
        x: axis,
        y: axis,
        verticals: [],
        horizontals: [],
        panels: [{ of: notStated, label: "a", points: [{ of: notStated, x: 1, y: 1 }], fitted: [] }],
      },
      {
        ...base,
        kind: "lines",
        x: axis,
        y: axis,
        verticals: [],
        horizontals: [],
        panels: [{ of: notStated, label: "a", points: [], fitted: [] }],
      },
      { ...base, kind: "category-shares", x: axis, panels: [{ of: notStated, label: "a", n: 0, bars: [] }] },
      {
        ...base,
        kind: "prevalence-bands",
        rows: [{ of: notStated, label: "a", value: 0, low: 0, high: 0, n: 30, bands: [] }],
      },
    ];
    for (const chart of poor) {
      for (const { text } of await drawn(chart, words)) {
        expect(text).not.toMatch(/NaN|Infinity|undefined/);
        expect(widthOf(text)).toBeLessThanOrEqual(theme.width + 2);
      }
    }
  });

  it("goes on in another picture where one would not fit a page, on the same axis", async () => {
    const title = { id: "axis.children", values: {} };
    const axis = { label: title, unit: "z" as const };
    const rows = ["a", "b", "c"].flatMap((group) =>
      Array.from({ length: 20 }, (_, i) => ({
        of: notStated,
        group,
        label: `${group}${i}`,
        value: i / 20,
        low: 0,
        high: 1,
        n: 99,
      })),
    );
    const base = { id: "x", title, alternative: title };
    const pictures = await drawn({ ...base, kind: "intervals", x: axis, lines: [], rows }, words);
    const texts = pictures.map(({ text }) => textsIn(text).filter((each) => /^[abc]\d+$/.test(each)));
    expect(texts.map((each) => each.length)).toEqual([40, 20]);
    expect(texts.flat()).toEqual(rows.map((row) => row.label));
    for (const { text } of pictures) expect(textsIn(text)).toContain("1.0");
    const bars = [1, 2].map((i) => ({ category: `k${i}`, share: 0.5, expected: 0.5, low: 0.4, high: 0.6 }));
    const panels = Array.from({ length: 21 }, (_, i) => ({ of: notStated, label: `P${i}`, n: 99, bars }));
    const parts = await drawn({ ...base, kind: "category-shares", x: axis, panels }, words);
    expect(parts.map(({ text }) => textsIn(text).filter((each) => /^P\d+$/.test(each)).length)).toEqual([12, 9]);
  });

  it("tidies tags only, never what a label says", () => {
    const svg = tidySvg('<svg xmlns="x" width="1.23456"><text role="b">3.14159 role="b" xmlns="y"</text></svg>');
    expect(svg).toBe('<svg width="1.23"><text>3.14159 role="b" xmlns="y"</text></svg>');
    expect(labelledSvg(svg, 'more than "half"').text).toMatch(
      /^<svg class="chart"[^>]* aria-label="more than &quot;half&quot;"/,
    );
  });

  it("has no ids, which two figures of a page might share", async () => {
    for (const chart of charts)
      for (const { text } of await drawn(chart, words)) expect(text).not.toMatch(/ id="|url\(#/);
  });
});

describe("text widths", () => {
  it.each(["400", "600"] as const)("are those of the embedded face, weight %s", (weight) => {
    const font = create(readFileSync(`templates/style/fonts/sans-${weight}.woff2`));
    const text = "Weight-for-height, 95% interval 10.2% to 15.9% \u2264 \u22122 \u00e9\u00e0\u00fc";
    const glyphs = Array.from(text, (sign) => font.glyphForCodePoint(sign.codePointAt(0) ?? 0).advanceWidth);
    const expected = (glyphs.reduce((sum, width) => sum + width, 0) * 12) / font.unitsPerEm;
    expect(textWidth(text, 12, Number(weight) as 400 | 600)).toBeCloseTo(expected, 0);
  });

  it("breaks a word too long for its line after its hyphens before it cuts it", () => {
    expect(wrapText("arm-circumference-for-age", 110, 12)).toEqual(["arm-circumference-", "for-age"]);
    expect(wrapText("\u22120.5 to 0.5", 30, 12)).toEqual(["\u22120.5", "to 0.5"]);
  });

  it("breaks at spaces, cuts what fits no line, and says when something was left out", () => {
    const lines = wrapText("one two three four", 50, 12);
    expect(lines.join(" ")).toBe("one two three four");
    for (const line of lines) expect(textWidth(line, 12)).toBeLessThanOrEqual(50);
    for (const line of wrapText("x".repeat(300), 100, 12)) expect(textWidth(line, 12)).toBeLessThanOrEqual(100);
    expect(wrapAtMost("one two three four five six", 40, 12, 400, 2).at(-1)).toMatch(/\u2026$/);
  });
});

describe("axes", () => {
  it("count months by whole steps", () => {
    expect(axisOf("month", 12, [-0.5, 59.5]).values).toEqual([0, 6, 12, 18, 24, 30, 36, 42, 48, 54]);
    expect(axisOf("month", 12, [0, 11]).values).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
  });

  it("round ranges hold all values", () => {
    const [low, high] = roundRange([0.913, 1.47]);
    expect(low).toBeLessThanOrEqual(0.913);
    expect(high).toBeGreaterThanOrEqual(1.47);
    expect(roundRange([0.02, 0.26], true)).toEqual([0, 0.3]);
    expect(roundRange([])).toEqual([0, 1]);
    expect(roundRange([Number.NaN, null])).toEqual([0, 1]);
    const [least, most] = roundRange([5, 5]);
    expect(least).toBeLessThan(5);
    expect(most).toBeGreaterThan(5);
  });

  it("are written as the language writes numbers", async () => {
    expect(localeOf(loadWords("en")).number).toMatchObject({ decimal: ".", thousands: ",", percent: "%" });
    expect(localeOf(loadWords("fr")).number).toMatchObject({
      ...{ decimal: ",", thousands: "\u202f", percent: "\u00a0%", minus: "\u2212" },
    });
    expect(localeOf(loadWords("pt")).number).toMatchObject({ decimal: ",", thousands: "." });
    const share: Chart = {
      ...{ kind: "intervals", id: "x", title: bands.title, alternative: bands.title, lines: [] },
      x: { label: bands.title, unit: "share-difference" },
      rows: [{ of: notStated, label: "a", value: 0.01, low: -0.02, high: 0.04, n: 900 }],
    };
    const [picture] = await drawn(share, loadWords("fr"));
    expect(textsIn(picture?.text ?? "")).toEqual(expect.arrayContaining(["\u22122", "0", "+2", "+4"]));
  });
});
