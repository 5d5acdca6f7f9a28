import { describe, expect, it } from "vitest";
import type { Row } from "../../src/render/charts/figure.js";
import { figuresOf } from "../../src/render/charts/figures.js";
import { theme } from "../../src/render/charts/theme.js";
import { loadWords } from "../../src/render/words.js";
import { notStated } from "../../src/results/group.js";
import type { Chart } from "../../src/results/schema.js";
import { acrossOf, drawn, sizeOf, textsIn } from "./drawn.js";

const words = loadWords("en");
const title = { id: "axis.children", values: {} };
const base = { id: "x", title, alternative: title };
const { palette } = theme;

const bar = (category: string, share: number) => ({ category, share, expected: 0.2, low: 0.1, high: 0.3 });
/** Panels whose own values would each ask for an axis of its own. */
const shares: Chart = {
  ...base,
  kind: "category-shares",
  x: { label: title },
  panels: [0.05, 0.2, 0.6, 0.9, 0.1].map((share, i) => ({
    label: `P${i}`,
    n: 50 + i,
    of: notStated,
    reading: share > 0.3 ? ("doubt" as const) : ("expected" as const),
    bars: [bar("a", share), bar("b", 0.2)],
  })),
};
const axis = { label: { id: "axis.z-score", values: {} }, unit: "z" as const };
const lines: Chart = {
  ...base,
  kind: "lines",
  x: { label: { id: "axis.children", values: {} }, unit: "day" },
  y: axis,
  verticals: [],
  horizontals: [],
  panels: [0, 1, -2, 3, 0.5, 0.2, 1.4].map((y, i) => ({
    label: `P${i}`,
    of: notStated,
    points: [1, 4, 9 + i].map((x) => ({ of: notStated, x, y, low: y - 0.2, high: y + 0.2, n: 10 + i })),
    fitted: [],
  })),
};

const pictureOf = async (chart: Chart, language = "en"): Promise<string> => {
  const [picture, ...others] = await drawn(chart, loadWords(language));
  expect(others).toEqual([]);
  return picture?.text ?? "";
};
const rowsOf = (chart: Chart): readonly Row[] => figuresOf(chart, words)[0]?.datasets.rows ?? [];
const unique = <Value>(values: readonly Value[]): Value[] => [...new Set(values)];

describe.each([
  ["shares of categories", shares],
  ["lines", lines],
] as const)("small multiples of one picture: %s", (_, chart) => {
  const panels = "panels" in chart ? chart.panels : [];
  const isName = (text: string): boolean => /^P\d$/.test(text);

  it("stand in rows of three, each under its name and number of children", async () => {
    const svg = await pictureOf(chart);
    const across = acrossOf(svg, isName);
    expect(across).toHaveLength(panels.length);
    expect(unique(across.map(Math.round))).toHaveLength(3);
    for (const panel of panels) {
      const n = "n" in panel ? panel.n : panel.points.length * (panel.points[0]?.n ?? 0);
      expect(textsIn(svg).join(" ")).toContain(words.text({ id: "chart.n", values: { n } }));
    }
  });

  it("follow the direction of writing: in Arabic the first stands at the right", async () => {
    const svg = await pictureOf(chart, "ar");
    const [first = 0] = acrossOf(svg, (text) => text.includes("P0"));
    const [second = 0] = acrossOf(svg, (text) => text.includes("P1"));
    expect(first).toBeGreaterThan(second);
  });

  it("name the axis across once, below all of them", async () => {
    expect(textsIn(await pictureOf(chart)).filter((text) => text === words.text(title))).toHaveLength(1);
  });
});

describe("a long name of the axis across", () => {
  it("stands in the middle below the panels, in lines no wider than they are", async () => {
    const long = { id: "consequence.axis.scale", values: {} };
    const [first] = lines.kind === "lines" ? lines.panels : [];
    if (lines.kind !== "lines" || first === undefined) throw new Error("no panel");
    const svg = await pictureOf({ ...lines, x: { ...lines.x, label: long }, panels: [first] });
    expect(sizeOf(svg, "width")).toBeLessThanOrEqual(theme.width + 2);
    expect(textsIn(svg).join(" ")).toContain(words.text(long));
  });
});

describe("numbers in Arabic", () => {
  it("run from left to right as in every language: earlier and smaller ones stand at the left", async () => {
    const svg = await pictureOf(lines, "ar");
    const plain = (text: string): string => text.replace(/[^\d]/g, "");
    const [early = 0] = acrossOf(svg, (text) => plain(text) === "2");
    const [late = 0] = acrossOf(svg, (text) => plain(text) === "12");
    expect(early).toBeGreaterThan(0);
    expect(early).toBeLessThan(late);
  });
});

describe("shares of categories", () => {
  it("are drawn to one scale in all panels", async () => {
    const svg = await pictureOf(shares);
    // Bars have an edge of 1 px; a path 'Mx,yhWvHh-WZ' gives their height.
    const heights = [...svg.matchAll(/<path d="M[\d.,-]+h[\d.]+v(-?[\d.]+)[^"]*"([^>]*)/g)]
      .filter(([, , rest = ""]) => rest.includes(palette.blueTint) || rest.includes(palette.ochre))
      .filter(([, , rest = ""]) => rest.includes('stroke-width="1"'))
      .map(([, height]) => Math.abs(Number(height)));
    const values = [0.05, 0.2, 0.6, 0.9, 0.1].flatMap((share) => [share, 0.2]);
    expect(heights).toHaveLength(values.length);
    const unit = (heights[1] ?? 0) / 0.2;
    expect(unit).toBeGreaterThan(20);
    for (const [i, height] of heights.entries()) expect(height).toBeCloseTo((values[i] ?? 0) * unit, 0);
  });

  it("stand out by their edge as well as their colour where chance does not give them", async () => {
    const outside = rowsOf(shares).filter((row) => row.outside === true);
    expect(outside.map((row) => row.share)).toEqual([0.05, 0.6, 0.9]);
    const svg = await pictureOf(shares);
    const strong = [...svg.matchAll(/<path[^>]*>/g)]
      .map(([path]) => path)
      .filter((path) => path.includes(palette.ochre));
    // Three bars, and the legend's.
    expect(strong).toHaveLength(4);
    for (const path of strong) expect(path).toContain(`stroke="${palette.ink}"`);
  });
});

describe("counts by months", () => {
  const counts = (count: number, emphasis: boolean) => ({ count, expected: 10, low: 4, high: 16, emphasis });
  const chart: Chart = {
    ...{ ...base, kind: "counts-over", of: notStated, x: { label: title, unit: "month" } },
    bars: [
      { at: 11, ...counts(10, false) },
      { at: 12, ...counts(10, true) },
      { at: 13, ...counts(20, false) },
      { at: 14, ...counts(2, false) },
    ],
  };

  it("are marked where they lie outside the band of chance, whatever month it is; multiples of six by a mark of their own", async () => {
    expect(rowsOf(chart).map((row) => [row.at, row.outside, row.multiple])).toEqual([
      [11, false, false],
      [12, false, true],
      [13, true, false],
      [14, true, false],
    ]);
    const texts = textsIn(await pictureOf(chart));
    for (const id of ["share-outside", "count-emphasis", "observed-count", "chance-band", "expected"]) {
      expect(texts).toContain(words.text({ id: `key.${id}`, values: {} }));
    }
  });
});

describe("rows of values", () => {
  const readings = ["expected", "explain", "doubt", "unknown"] as const;
  const rows = readings.map((reading) => ({
    of: notStated,
    label: reading,
    value: 1,
    low: 0,
    high: 2,
    n: 90,
    reading,
  }));
  const chart: Chart = { ...base, kind: "intervals", x: axis, lines: [], rows };

  it("tell a value in doubt from others by its shape and edge as well as its colour, and say so in the legend", async () => {
    expect(rowsOf(chart).map((row) => row.strong)).toEqual([false, false, true, false]);
    const svg = await pictureOf(chart);
    const texts = textsIn(svg);
    for (const reading of readings) expect(texts).toContain(words.text({ id: `reading.${reading}`, values: {} }));
    expect(texts).toContain(words.text({ id: "key.interval-doubt", values: {} }));
  });

  it("carry the sign of each reading, four that differ in form", () => {
    const signs = rowsOf(chart).map((row) => row.sign);
    expect(unique(signs)).toHaveLength(4);
    expect(signs.every((sign) => typeof sign === "string")).toBe(true);
  });

  it("draw and write an interval that has no value of its own", async () => {
    const lone = { of: notStated, label: "put right", value: null, low: 0.5, high: 1.5, n: 90 };
    const svg = await pictureOf({ ...chart, rows: [lone] });
    expect(textsIn(svg)).toContain(words.interval({ low: 0.5, high: 1.5 }, "z"));
    expect(svg).toMatch(new RegExp(`<line[^>]* x2="-?[1-9][^>]*stroke="${palette.blue}"[^>]*stroke-width="2"`));
  });

  it("begin at the right in Arabic, figures in columns at the left", async () => {
    const svg = await pictureOf(chart, "ar");
    const [name = 0] = acrossOf(svg, (text) => text.includes("doubt"));
    const [count = 0] = acrossOf(svg, (text) => /\b90\b/.test(text));
    expect(name).toBeGreaterThan(count);
  });

  it("draw where other surveys lie as a bracket, named in the legend", async () => {
    const label = { id: "checks.spread.chart.observed", values: {} };
    const svg = await pictureOf({ ...chart, bracket: { low: 1.08, high: 1.5, label } });
    expect(textsIn(svg)).toContain(words.text(label));
  });

  it.each([
    [-2, "at the height of the headings"],
    [1.9, "above them"],
  ])("keep the name of a value marked at %f clear of the columns' headings: %s", (at, place) => {
    const label = { id: "key.chance-band", values: {} };
    const low = { of: notStated, label: "low", value: 1, low: -2, high: 2, n: 90 };
    const [figure] = figuresOf({ ...chart, lines: [{ at, label }], rows: [...rows, low] }, words);
    const lift = Number(figure?.datasets.lines?.[0]?.lift);
    expect(lift < 0).toBe(place === "above them");
  });
});
