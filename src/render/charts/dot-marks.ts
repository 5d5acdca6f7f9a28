import { gap, type Layout } from "./dot-layout.js";
import type { DotPicture } from "./dot-picture.js";
import { type Marks, type Point, text } from "./picture.js";
import { theme } from "./theme.js";

const { palette } = theme;

/** Names of rows and headings of groups, at the left of the frame. */
export function textMarks({ labelWidth, placed }: Layout): Partial<Marks> {
  const x = -labelWidth - 12;
  return {
    texts: [
      ...placed.rows.map((row) => text(x, row.y, row.text, { baseline: "middle" })),
      // Only the first line of a heading stands at its height.
      ...placed.headings.map(({ y, lines }) =>
        text(x, y + (lines.length - 1) * 7, lines.join("\n"), { baseline: "middle", weight: 600 }),
      ),
    ],
  };
}

/** Figures in columns at the right of the frame, with their headings. */
export function columnMarks(picture: DotPicture, layout: Layout): Partial<Marks> {
  const texts = picture.columns.flatMap((title, i) => {
    const x = layout.columns[i] ?? 0;
    const figures = layout.placed.rows.map((row) => text(x, row.y, row.facts[i] ?? "", { baseline: "middle" }));
    const heading = text(x, -4, title, { baseline: "bottom", color: palette.quiet });
    return picture.headed === false ? figures : [...figures, heading];
  });
  return { texts };
}

/** Dots with their intervals; what stands out differs in shape and edge as well as in colour. */
export function dotMarks({ placed, along }: Layout): Partial<Marks> {
  const rows = placed.rows.flatMap(({ y, value, low, high, hollow, strong }) => {
    if (value === null) return [];
    const fill = hollow ? palette.paper : strong ? palette.ochre : palette.blue;
    const edge = strong ? palette.ink : palette.blue;
    return [{ y, strong, fill, edge, x: along(value), from: along(low ?? value), to: along(high ?? value) }];
  });
  return {
    rules: rows.map(({ y, from, to, edge }) => ({ x: from, x2: to, y, y2: y, stroke: edge, width: 2 })),
    points: rows.map(({ x, y, strong, fill, edge }) => ({
      ...{ x, y, fill, stroke: edge, width: 1.6 },
      ...(strong ? { shape: "diamond", size: 110 } : { shape: "circle", size: 62 }),
    })),
  };
}

/** The signs of the report's readings: open, half, full circle, dash. */
export function signMarks({ plot, placed }: Layout): Partial<Marks> {
  const x = plot + gap + 5;
  const size = 95;
  const reach = Math.sqrt(size) / 2;
  const sign = (y: number, shape: string, fill: string): Point => ({
    ...{ x, y, shape, size, fill, stroke: palette.ink, width: 1.4 },
  });
  return {
    points: placed.rows.flatMap(({ y, reading }) => {
      if (reading === undefined || reading === "unknown") return [];
      const open = sign(y, "circle", reading === "doubt" ? palette.ink : palette.paper);
      return reading === "explain" ? [open, sign(y, "M0,-1A1,1,0,0,0,0,1Z", palette.ink)] : [open];
    }),
    rules: placed.rows
      .filter((row) => row.reading === "unknown")
      .map(({ y }) => ({ x: x - reach, x2: x + reach, y, y2: y, stroke: palette.ink, width: 1.4 })),
  };
}
