import type { Chart } from "../../results/schema.js";
import { Drawing } from "../charts/drawing.js";
import type { Words } from "../words.js";

/** A figure as the template draws it. */
export interface FigureView {
  readonly id: string;
  /** The kind of chart, by which print sets its size. */
  readonly kind: Chart["kind"];
  readonly title: string;
  readonly drawing: Drawing;
}

export function figureView(chart: Chart, id: string, words: Words): FigureView {
  return { id, kind: chart.kind, title: words.text(chart.title), drawing: new Drawing(chart, words) };
}
