import { describe, expect, it } from "vitest";
import { svgOf } from "../../src/render/charts/draw-svg.js";
import { picturesOf } from "../../src/render/charts/index.js";
import type { Picture, Rule } from "../../src/render/charts/picture.js";
import { textWidth } from "../../src/render/charts/text-width.js";
import { theme } from "../../src/render/charts/theme.js";
import { loadWords } from "../../src/render/words.js";
import { notStated } from "../../src/results/group.js";
import type { Chart } from "../../src/results/schema.js";

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

interface Drawn {
  readonly picture: Picture;
  /** Where frames begin, from the first of a row to the last. */
  readonly starts: readonly number[];
  /** Base lines of the rows, from the top. */
  readonly bases: readonly number[];
}

const unique = (values: readonly number[]): number[] => [...new Set(values)].sort((a, b) => a - b);

function drawn(chart: Chart): Drawn {
  const [picture, ...others] = picturesOf(chart, words);
  if (picture === undefined) throw new Error("no picture");
  expect(others).toEqual([]);
  const bases = picture.marks.rules.filter((rule) => rule.y === rule.y2 && rule.stroke === palette.quiet);
  return { picture, starts: unique(bases.map(({ x }) => x)), bases: unique(bases.map(({ y }) => y)) };
}

/** The base line that a height belongs to: the next one below. */
const below = ({ bases }: Drawn, y: number): number => bases.find((base) => base >= y - 1e-9) ?? Number.NaN;

describe.each([
  ["shares of categories", shares],
  ["lines", lines],
] as const)("small multiples of one picture: %s", (_, chart) => {
  const all = drawn(chart);
  const { picture, starts, bases } = all;
  const panels = "panels" in chart ? chart.panels : [];

  it("stand in rows of three", () => {
    expect(starts).toHaveLength(3);
    expect(bases).toHaveLength(Math.ceil(panels.length / 3));
  });

  it("share one upright axis: light lines at the same heights in each", () => {
    const heights = new Map<string, number[]>();
    for (const rule of picture.marks.grid) {
      const base = below(all, rule.y);
      const frame = `${rule.x} ${base}`;
      heights.set(frame, [...(heights.get(frame) ?? []), Math.round((base - rule.y) * 1000)]);
    }
    expect(heights.size).toBe(panels.length);
    const [first, ...others] = [...heights.values()];
    expect(first?.length).toBeGreaterThan(2);
    for (const other of others) expect(other).toEqual(first);
  });

  it("carry the figures of it at the left ones alone, the same in each row", () => {
    const figures = picture.marks.texts.filter((text) => text.align === "right" && text.baseline === "middle");
    const rows = new Map<number, string[]>();
    for (const figure of figures) {
      expect(figure.x).toBeLessThan(starts[0] ?? 0);
      const base = below(all, figure.y);
      rows.set(base, [...(rows.get(base) ?? []), figure.text]);
    }
    expect([...rows.keys()].sort((a, b) => a - b)).toEqual(bases);
    const [first, ...others] = [...rows.values()];
    expect(first?.length).toBe(picture.marks.grid.length / panels.length);
    for (const other of others) expect(other).toEqual(first);
  });

  it("have the same ticks across", () => {
    const stubs = picture.marks.rules.filter((rule) => rule.x === rule.x2 && bases.includes(rule.y));
    const own = (rule: Rule): number => Math.round((rule.x - Math.max(...starts.filter((x) => x <= rule.x))) * 1000);
    const frames = new Map<string, number[]>();
    for (const stub of stubs) {
      const frame = `${Math.max(...starts.filter((x) => x <= stub.x))} ${stub.y}`;
      frames.set(frame, [...(frames.get(frame) ?? []), own(stub)]);
    }
    const [first, ...others] = [...frames.values()];
    for (const other of others) expect(other).toEqual(first);
    expect(frames.size).toBe(chart.kind === "lines" ? panels.length : 0);
  });

  it("name the axis across below the lowest of each column, and every panel with its number of children", async () => {
    const named = picture.marks.texts.filter((text) => text.text === words.text(title) && text.align === "center");
    expect(named).toHaveLength(3);
    const svg = await svgOf(picture);
    for (const panel of panels) expect(svg).toContain(`>${String(panel.label)}<`);
    const counts = panels.map((panel) =>
      words.text({
        id: "chart.n",
        values: { n: "n" in panel ? panel.n : panel.points.length * (panel.points[0]?.n ?? 0) },
      }),
    );
    for (const count of counts) expect(svg).toContain(count);
  });
});

describe("shares of categories", () => {
  const all = drawn(shares);
  const bars = all.picture.marks.boxes.filter((box) => box.width === 1);

  it("are drawn to one scale in all panels", () => {
    const heights = bars.map((box) => box.y2 - box.y);
    const values = [0.05, 0.2, 0.6, 0.9, 0.1].flatMap((share) => [share, 0.2]);
    const unit = (heights[1] ?? 0) / 0.2;
    expect(unit).toBeGreaterThan(20);
    expect(heights).toHaveLength(values.length);
    for (const [i, height] of heights.entries()) expect(height).toBeCloseTo((values[i] ?? 0) * unit, 6);
  });

  it("stand out by their edge as well as their colour where chance does not give them", () => {
    const strong = bars.filter((box) => box.fill === palette.ochre);
    expect(strong).toHaveLength(3);
    for (const box of bars) expect(box.stroke).toBe(strong.includes(box) ? palette.ink : palette.blue);
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
  const [picture] = picturesOf({ ...base, kind: "intervals", x: axis, lines: [], rows }, words);
  const marks = picture?.marks;
  const at = (label: string): number => marks?.texts.find((text) => text.text === label)?.y ?? Number.NaN;

  it("tell a value in doubt from others by its shape and edge as well as its colour", () => {
    const dots = marks?.points.filter((point) => point.width === 1.6) ?? [];
    expect(dots.map((dot) => [dot.y, dot.shape, dot.stroke])).toEqual(
      readings.map((each) =>
        each === "doubt" ? [at(each), "diamond", palette.ink] : [at(each), "circle", palette.blue],
      ),
    );
  });

  it("carry the sign of each reading: open, half, full, dash", () => {
    const signs = readings.map((each) => [
      ...(marks?.points ?? [])
        .filter((point) => point.y === at(each) && point.width === 1.4)
        .map(({ shape, fill }) => (shape === "circle" ? fill : `half ${fill}`)),
      ...(marks?.rules ?? []).filter((rule) => rule.y === at(each) && rule.width === 1.4).map(() => "dash"),
    ]);
    expect(signs).toEqual([[palette.paper], [palette.paper, `half ${palette.ink}`], [palette.ink], ["dash"]]);
  });

  it.each([-2, 0, 1.9])("keep the name of a value marked at %f clear of the columns' headings", (at) => {
    const label = { id: "key.chance-band", values: {} };
    const chart: Chart = {
      ...base,
      kind: "intervals",
      x: axis,
      lines: [{ at, label }],
      rows: [
        ...rows,
        {
          of: notStated,
          label: "low",
          value: 1,
          low: -2,
          high: 2,
          n: 90,
        },
      ],
    };
    const texts = picturesOf(chart, words)[0]?.marks.texts ?? [];
    const name = texts.find((each) => each.text === words.text(label));
    const heading = texts.find((each) => each.text.startsWith("Value"));
    if (name === undefined || heading === undefined) throw new Error("no names");
    const above = heading.y - name.y >= 14;
    expect(above || name.x + textWidth(name.text, 12) / 2 < heading.x - 4).toBe(true);
  });
});
