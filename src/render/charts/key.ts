import { message } from "../../results/message.js";
import type { Chart, Message, Reading } from "../../results/schema.js";
import { OwnMarkup } from "../markup.js";
import { readingSign } from "../signs.js";
import { mostRows } from "./against-chance.js";
import { theme } from "./theme.js";
import { roundsInOrder } from "./tiles.js";

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
function readingsOf(rows: readonly { readonly reading?: Reading | undefined }[]): KeyEntry[] {
  const present = (["expected", "explain", "doubt", "unknown"] as const).filter((reading) =>
    rows.some((row) => row.reading === reading),
  );
  // Where nothing but 'as expected' stands, the check says so over the figure.
  if (present.every((reading) => reading === "expected")) return [];
  return [
    ...present.map((reading) => ({ swatch: readingSign(reading), label: message(`reading.${reading}`) })),
    ...(present.includes("doubt") ? [entry(diamond, "interval-doubt")] : []),
  ];
}

/** Dots of places whose last change is clear, and of others. */
function changesOf(clear: boolean, others: boolean): KeyEntry[] {
  return [
    ...(clear ? [entry(dot(palette.blue, palette.blue), "round-clear")] : []),
    ...(others ? [entry(dot(palette.quiet, palette.quiet), clear ? "round-other" : "interval")] : []),
  ];
}

function roundsKey(chart: Extract<Chart, { kind: "rounds" }>): KeyEntry[] {
  const marked = chart.panels.some((panel) => panel.points.some((point) => point.marked === true));
  return [
    ...changesOf(
      chart.panels.some((panel) => panel.emphasis),
      chart.panels.some((panel) => !panel.emphasis),
    ),
    ...(marked ? [entry(dot(palette.paper, palette.quiet), "interval-marked")] : []),
  ];
}

function againstChanceKey(chart: Extract<Chart, { kind: "against-chance" }>): KeyEntry[] {
  const rows = chart.panels.flatMap((panel) => panel.rows);
  const asFunnel = chart.panels.filter((panel) => panel.rows.length > mostRows).length;
  return [
    of("chance-band", "chance"),
    ...(rows.some((row) => row.expected !== null) ? [of("expected", "line")] : []),
    ...(asFunnel > 0 ? [entry(diamond, "survey-outside")] : []),
    ...(asFunnel < chart.panels.length ? readingsOf(rows) : []),
  ];
}

const triangle = (path: string): OwnMarkup => swatch(`<path d="${path}" fill="${palette.ink}"/>`);

function tilesKey(chart: Extract<Chart, { kind: "tiles" }>): KeyEntry[] {
  const has = (verdict: string): boolean => chart.tiles.some((tile) => tile.verdict === verdict);
  const rounds = roundsInOrder(chart);
  return [
    ...(has("rise") ? [entry(triangle("M11 2 16 12H6z"), "tile-rise")] : []),
    ...(has("fall") ? [entry(triangle("M11 12 16 2H6z"), "tile-fall")] : []),
    ...changesOf(has("rise") || has("fall"), true),
    ...(rounds.length > 1
      ? [{ swatch: line(palette.quiet, 0.9), label: message("key.tile-rounds", { rounds, count: rounds.length }) }]
      : []),
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
        ...(chart.kind === "intervals" && chart.rows.some((row) => row.moves === true)
          ? [entry(dot(palette.blue, palette.blue), "interval"), entry(diamond, "interval-moves")]
          : []),
        ...(chart.kind === "intervals" ? readingsOf(chart.rows) : []),
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
    case "rounds":
      return roundsKey(chart);
    case "against-chance":
      return againstChanceKey(chart);
    case "tiles":
      return tilesKey(chart);
  }
}
