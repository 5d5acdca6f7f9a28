import type { Chart } from "../../results/schema.js";
import { type Drawing, startChart } from "../charts/draw.js";
import { keyOf } from "../charts/key.js";
import type { OwnMarkup } from "../markup.js";
import type { Words } from "../words.js";

/** A figure as the template draws it. */
export interface FigureView {
  readonly id: string;
  /** The kind of chart, by which print sets its size. */
  readonly kind: Chart["kind"];
  readonly title: string;
  readonly drawing: Drawing;
  readonly key: readonly {
    readonly swatch: OwnMarkup;
    readonly label: string;
  }[];
}

export function figureView(chart: Chart, id: string, words: Words): FigureView {
  return {
    id,
    kind: chart.kind,
    title: words.text(chart.title),
    drawing: startChart(chart, words),
    key: keyOf(chart).map((entry) => ({
      swatch: entry.swatch,
      label: words.text(entry.label),
    })),
  };
}
