import type { Marks, Picture } from "./picture.js";
import type { Spec } from "./theme.js";

type Row = Readonly<Record<string, unknown>>;
/** The data of each kind of marks, as rows. */
export type PlanRows = Readonly<Record<keyof Marks, readonly Row[]>>;

const place = (field: string): Spec => ({ field, type: "quantitative", scale: null, axis: null });
const given = (field: string): Spec => ({ field, type: "nominal", scale: null });
const own = (field: string): Spec => ({ expr: `datum.${field}` });

const kind = (name: keyof Marks, mark: Spec, encoding: Spec): Spec => ({
  data: { name },
  mark,
  encoding: { x: place("x"), y: place("y"), ...encoding },
});
const to = { x2: { field: "x2" }, y2: { field: "y2" } };
const dashed = { strokeWidth: own("width"), strokeDash: own("dash") };
const letters = {
  align: own("align"),
  baseline: own("baseline"),
  fontSize: own("size"),
  fontWeight: own("weight"),
  lineHeight: own("lineHeight"),
  angle: own("angle"),
  strokeWidth: own("haloWidth"),
  strokeJoin: own("haloJoin"),
  lineBreak: "\n",
};

/** The one specification that every picture is drawn by; places, colours and sizes stand in the rows. */
export const plan: Spec = {
  width: 1,
  height: 1,
  layer: [
    kind("grid", { type: "rule", ...dashed }, { ...to, stroke: given("stroke") }),
    kind("boxes", { type: "rect", strokeWidth: own("width") }, { ...to, stroke: given("stroke"), fill: given("fill") }),
    kind(
      "areas",
      { type: "area", orient: "vertical", opacity: own("opacity") },
      { y2: { field: "y2" }, fill: given("fill"), detail: given("series") },
    ),
    kind("rules", { type: "rule", ...dashed }, { ...to, stroke: given("stroke") }),
    kind(
      "curves",
      { type: "line", ...dashed },
      { stroke: given("stroke"), detail: given("series"), order: { field: "order", type: "quantitative" } },
    ),
    kind(
      "points",
      { type: "point", shape: own("shape"), size: own("size"), strokeWidth: own("width"), opacity: 1 },
      { stroke: given("stroke"), fill: given("fill") },
    ),
    kind(
      "texts",
      { type: "text", ...letters },
      { fill: given("color"), stroke: given("halo"), text: { field: "text" } },
    ),
  ],
};

/** What has no place cannot be drawn: results that were changed by hand may hold anything. */
const isPlaced = (row: Row): boolean =>
  ["x", "y", "x2", "y2"].every((side) => row[side] === undefined || Number.isFinite(row[side]));

/** Points of lines as rows, each with the line it belongs to and its place in it. */
const seriesRows = (lines: readonly { readonly points: readonly object[] }[]): Row[] =>
  lines.flatMap(({ points, ...style }, series) =>
    points.map((point, order) => ({ ...style, ...point, series, order })),
  );

/** A picture's marks as rows for the plan. */
export function planRows({ marks }: Picture): PlanRows {
  const placed = (rows: readonly object[]): Row[] => rows.map((row) => row as Row).filter(isPlaced);
  return {
    grid: placed(marks.grid),
    boxes: placed(marks.boxes),
    areas: placed(seriesRows(marks.areas)),
    rules: placed(marks.rules),
    curves: placed(seriesRows(marks.curves)),
    points: placed(marks.points),
    texts: placed(
      marks.texts.map((each) => ({ ...each, ...(each.halo === undefined ? {} : { haloWidth: 3, haloJoin: "round" }) })),
    ),
  };
}
