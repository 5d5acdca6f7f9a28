import { message } from "../../results/message.js";
import type { Reading } from "../../results/schema.js";
import type { Words } from "../words.js";
import { asGiven, quantitative } from "./dot-channels.js";
import { gap, type Layout } from "./dot-layout.js";
import type { DotPicture } from "./dot-picture.js";
import { type Spec, theme } from "./theme.js";

const { palette } = theme;

/** Names of rows and headings of groups, at the left of the frame. */
export function textMarks(layout: Layout): Spec[] {
  const { placed } = layout;
  const names = placed.rows.map(({ y, text }) => ({ y: y - (text.split("\n").length - 1) * 7, text }));
  const written = (values: readonly object[], mark: Spec): Spec => ({
    data: { values },
    mark: { type: "text", align: "left", baseline: "middle", ...mark, lineBreak: "\n", lineHeight: 14 },
    encoding: { x: { value: -layout.labelWidth - 12 }, y: quantitative("y"), text: { field: "text" } },
  });
  return [
    written(names, {}),
    ...(placed.headings.length > 0 ? [written([...placed.headings], { fontWeight: 600 })] : []),
  ];
}

/** Figures in columns at the right of the frame, with their headings. */
export function columnMarks(picture: DotPicture, layout: Layout): Spec[] {
  const { placed } = layout;
  return picture.columns.flatMap((title, i) => {
    const x = layout.columns[i] ?? 0;
    return [
      {
        data: {
          values: placed.rows.map((row) => ({
            y: row.y,
            text: row.facts[i] ?? "",
          })),
        },
        mark: { type: "text", align: "left", baseline: "middle" },
        encoding: { x: { value: x }, y: quantitative("y"), text: { field: "text" } },
      },
      {
        data: { values: picture.headed === false ? [] : [{ title }] },
        mark: {
          type: "text",
          align: "left",
          baseline: "bottom",
          color: palette.quiet,
        },
        encoding: {
          x: { value: x },
          y: { value: -5 },
          text: { field: "title" },
        },
      },
    ];
  });
}

/** Dots with their intervals; what stands out differs in shape and edge as well as in colour. */
export function dotMarks({ placed }: Layout): Spec[] {
  const rows = placed.rows
    .filter((row) => row.value !== null)
    .map((row) => ({
      y: row.y,
      value: row.value,
      low: row.low ?? row.value,
      high: row.high ?? row.value,
      fill: row.hollow ? palette.paper : row.strong ? palette.ochre : palette.blue,
      edge: row.strong ? palette.ink : palette.blue,
      strong: row.strong,
    }));
  const points = (shape: string, area: number, strong: boolean): Spec => ({
    data: { values: rows.filter((row) => row.strong === strong) },
    mark: { type: "point", shape, size: area, strokeWidth: 1.6, opacity: 1 },
    encoding: {
      x: quantitative("value"),
      y: quantitative("y"),
      fill: asGiven("fill"),
      stroke: asGiven("edge"),
    },
  });
  return [
    {
      data: { values: rows },
      mark: { type: "rule", strokeWidth: 2 },
      encoding: {
        x: quantitative("low"),
        x2: { field: "high" },
        y: quantitative("y"),
        stroke: asGiven("edge"),
      },
    },
    points("circle", 62, false),
    points("diamond", 110, true),
  ];
}

/** The signs of the report's readings: open, half, full circle, dash. */
export function signMarks(layout: Layout, words: Words): Spec[] {
  const { placed } = layout;
  const of = (readings: readonly Reading[]): Spec => ({
    values: placed.rows
      .filter((row) => row.reading !== undefined && readings.includes(row.reading))
      .map((row) => ({
        y: row.y,
        word: words.text(message(`reading.${row.reading ?? "unknown"}`)),
      })),
  });
  const x = { value: layout.plot + gap + 5 };
  const point = (shape: string, fill: string | null): Spec => ({
    type: "point",
    shape,
    fill,
    stroke: palette.ink,
    strokeWidth: 1.4,
    size: 95,
    opacity: 1,
  });
  const encoding = { x, y: quantitative("y") };
  return [
    {
      data: of(["expected", "explain"]),
      mark: point("circle", palette.paper),
      encoding,
    },
    {
      data: of(["explain"]),
      mark: point("M0,-1A1,1,0,0,0,0,1Z", palette.ink),
      encoding,
    },
    { data: of(["doubt"]), mark: point("circle", palette.ink), encoding },
    { data: of(["unknown"]), mark: point("M-1,0L1,0", null), encoding },
  ];
}
