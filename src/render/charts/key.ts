import { message } from "../../results/message.js";
import type { Chart, Message } from "../../results/schema.js";
import { OwnMarkup } from "../markup.js";
import { readingSign } from "../signs.js";
import { theme } from "./theme.js";

const { palette } = theme;

/** A small drawing and what it stands for. */
export interface KeyEntry {
  readonly swatch: OwnMarkup;
  readonly label: Message;
}

const swatch = (inner: string): OwnMarkup =>
  new OwnMarkup(
    `<svg class="swatch" viewBox="0 0 22 14" width="22" height="14" aria-hidden="true" focusable="false">${inner}</svg>`,
  );
const box = (fill: string, edge: string): OwnMarkup =>
  swatch(`<rect x="3" y="1" width="16" height="12" fill="${fill}" stroke="${edge}"/>`);
const line = (colour: string, width: number, dash = ""): OwnMarkup =>
  swatch(
    `<path d="M1 7h20" fill="none" stroke="${colour}" stroke-width="${width}"${dash === "" ? "" : ` stroke-dasharray="${dash}"`}/>`,
  );
const dot = (fill: string, edge: string): OwnMarkup =>
  swatch(
    `<path d="M1 7h20" stroke="${edge}" stroke-width="2"/><circle cx="11" cy="7" r="4.2" fill="${fill}" stroke="${edge}" stroke-width="1.6"/>`,
  );

const diamond = swatch(
  `<path d="M1 7h20" stroke="${palette.ink}" stroke-width="2"/><path d="M11 1.4 16 7l-5 5.6L6 7z" fill="${palette.ochre}" stroke="${palette.ink}" stroke-width="1.4"/>`,
);

const entry = (drawing: OwnMarkup, id: string): KeyEntry => ({
  swatch: drawing,
  label: message(`key.${id}`),
});

const barred: Readonly<Record<string, OwnMarkup>> = {
  chance: box(palette.chance, palette.chance),
  bar: box(palette.blueTint, palette.blue),
  strong: box(palette.ochre, palette.ink),
  line: line(palette.ink, 1.6),
};
const of = (id: string, name: string): KeyEntry => entry(barred[name] ?? swatch(""), id);

/** The signs at the right of the rows, with their words, and the diamond of a value that casts doubt. */
function readingsOf(chart: Extract<Chart, { kind: "intervals" }>): KeyEntry[] {
  const present = (["expected", "explain", "doubt", "unknown"] as const).filter((reading) =>
    chart.rows.some((row) => row.reading === reading),
  );
  // Where nothing but 'as expected' stands, the check says so over the figure.
  if (present.every((reading) => reading === "expected")) return [];
  return [
    ...present.map((reading) => ({ swatch: readingSign(reading), label: message(`reading.${reading}`) })),
    ...(present.includes("doubt") ? [entry(diamond, "interval-doubt")] : []),
  ];
}

/** What the marks of a chart mean: only those that occur in it. */
export function keyOf(chart: Chart): KeyEntry[] {
  switch (chart.kind) {
    case "category-shares": {
      const outside = chart.panels.some((panel) =>
        panel.bars.some((bar) => bar.share > bar.high || bar.share < bar.low),
      );
      return [
        of("observed-share", "bar"),
        ...(outside ? [of("share-outside", "strong")] : []),
        of("expected", "line"),
        of("chance-band", "chance"),
      ];
    }
    case "counts-over": {
      const strong = chart.bars.some((bar) => bar.emphasis);
      return [
        of("observed-count", "bar"),
        ...(strong ? [of("count-emphasis", "strong")] : []),
        of("expected", "line"),
        of("chance-band", "chance"),
      ];
    }
    case "z-distribution":
      return [
        of("z-observed", "bar"),
        entry(box(palette.ochreTint, palette.blue), "z-below-2"),
        entry(box(palette.ochre, palette.blue), "z-below-3"),
        of("z-standard", "line"),
      ];
    case "intervals":
    case "prevalence-bands":
      // The heading over the figures already says what dot and line are, unless some rows look different.
      return [
        ...(chart.rows.some((row) => row.marked === true)
          ? [
              entry(dot(palette.blue, palette.blue), "interval"),
              entry(dot(palette.paper, palette.blue), "interval-marked"),
            ]
          : []),
        ...(chart.kind === "intervals" ? readingsOf(chart) : []),
      ];
    case "scenarios":
      return [
        entry(dot(palette.blue, palette.blue), "scenario"),
        ...(chart.rows.some((row) => row.moves) ? [entry(diamond, "scenario-moves")] : []),
        ...(chart.rows.some((row) => row.kind === "sensitivity")
          ? [entry(dot(palette.paper, palette.blue), "scenario-contested")]
          : []),
      ];
    case "lines":
      return [
        ...(chart.panels.some((panel) => panel.points.length > 0)
          ? [entry(line(palette.blue, 1.6), "line-observed")]
          : []),
        // A lone line is what the title says it is; beside observed points it needs its name.
        ...(chart.panels.some((panel) => panel.fitted.length > 0 && panel.points.length > 0)
          ? [entry(line(palette.ochre, 2.4, "7 3"), "line-fitted")]
          : []),
        ...(chart.panels.length > 1
          ? chart.horizontals.map((mark) => ({
              swatch: line(palette.ink, 1, "2 3"),
              label: mark.label,
            }))
          : []),
      ];
  }
}
