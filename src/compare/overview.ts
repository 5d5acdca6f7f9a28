import type { Block, Difference, Verdict } from "../results/comparison.js";
import { fromResults } from "../results/group.js";
import { message } from "../results/message.js";
import type { Chart, Message, Table, TableCell, Unit } from "../results/schema.js";
import { comparedEstimates, fewOf, kindOf, surveyName } from "./cells.js";
import type { Comparability } from "./comparability.js";
import type { CompareSettings } from "./compare-settings.js";
import {
  inOrder,
  isGap,
  laidOut,
  mostTelling,
  type Placed,
  type PlaceOfOverview,
  placesOf,
  verdictOf,
} from "./overview-places.js";
import type { SurveySummary } from "./summary.js";

/** Names told in one sentence; all places stand in the table. */
const mostNamed = 12;

type Tile = Extract<Chart, { kind: "tiles" }>["tiles"][number];

/** How a value of the estimate and its change are written. */
const unitsOf = (estimate: string): { readonly value: Unit; readonly change: Unit } =>
  kindOf(estimate) === "mean" ? { value: "z", change: "z" } : { value: "share", change: "share-difference" };

function tileOf({ place, row, column }: Placed, grouped: boolean): Tile {
  return {
    label: place.place,
    ...(grouped && place.group !== null ? { group: place.group } : {}),
    row,
    column,
    verdict: verdictOf(place),
    points: place.rounds.map(({ survey, value, cell }) => ({
      label: survey.round ?? survey.title,
      value,
      low: cell.interval?.low ?? null,
      high: cell.interval?.high ?? null,
    })),
  };
}

function named(id: string, names: readonly (string | Message)[]): Message[] {
  return names.length === 0 ? [] : [message(`compare.overview.${id}`, { ...fewOf(names, mostNamed) })];
}

function findingOf(places: readonly PlaceOfOverview[], estimate: string): Message {
  const name = message(`estimate.${estimate}`);
  const stepped = places.filter(({ rounds }) => rounds.length > 1);
  const count = (verdict: Verdict): number => stepped.filter((place) => verdictOf(place) === verdict).length;
  if (stepped.length > 0)
    return message("compare.overview.finding.changes", {
      estimate: name,
      places: stepped.length,
      rose: count("rise"),
      fell: count("fall"),
      unclear: count("no-clear-change"),
      untold: count("cannot-tell"),
    });
  const lasts = places
    .map(({ place, rounds }) => ({ place, value: rounds.at(-1)?.value ?? Number.NaN }))
    .sort((a, b) => a.value - b.value);
  return message(`compare.overview.finding.levels.${kindOf(estimate)}`, {
    estimate: name,
    places: places.length,
    low: lasts[0]?.value ?? Number.NaN,
    lowest: lasts[0]?.place ?? "",
    high: lasts.at(-1)?.value ?? Number.NaN,
    highest: lasts.at(-1)?.place ?? "",
  });
}

function tableOf(places: readonly PlaceOfOverview[], estimate: string): Table {
  const units = unitsOf(estimate);
  const grouped = places.some(({ group }) => group !== null);
  const stepped = places.some(({ rounds }) => rounds.length > 1);
  const column = (id: string, unit: Table["columns"][number]["unit"]): Table["columns"][number] => ({
    id,
    label: message(`compare.overview.table.${id}`),
    unit,
  });
  return {
    id: `overview-${estimate}`,
    of: fromResults,
    caption: message("compare.overview.table.caption", { estimate: message(`estimate.${estimate}`) }),
    columns: [
      ...(grouped ? [column("group", "text")] : []),
      column("place", "text"),
      column("value", units.value),
      column("low", units.value),
      column("high", units.value),
      column("round", "text"),
      ...(stepped ? [column("difference", units.change), column("verdict", "text")] : []),
    ],
    rows: places.map((place): TableCell[] => {
      const last = place.rounds.at(-1);
      const verdict = verdictOf(place);
      return [
        ...(grouped ? [place.group] : []),
        place.place,
        last?.value ?? null,
        last?.cell.interval?.low ?? null,
        last?.cell.interval?.high ?? null,
        last?.survey.round ?? null,
        ...(stepped
          ? [place.last?.difference ?? null, verdict === null ? null : message(`compare.verdict.rounds.${verdict}`)]
          : []),
      ];
    }),
    notes: [message("compare.overview.table.note")],
  };
}

function blockOf(
  estimate: string,
  places: readonly PlaceOfOverview[],
  leftOut: readonly SurveySummary[],
  settings: Pick<CompareSettings, "tiles">,
): Block | null {
  if (places.length < 2) return null;
  const { tiles } = settings;
  const columns = places.length > 20 ? 6 : 5;
  const placed = tiles === null ? inOrder(mostTelling(places), columns) : laidOut(places, tiles);
  const ordered = inOrder(places, 1).map(({ place }) => place);
  const stepped = places.some(({ rounds }) => rounds.length > 1);
  const of = (verdict: Verdict): string[] =>
    ordered.filter((place) => verdictOf(place) === verdict).map(({ place }) => place);
  const name = message(`estimate.${estimate}`);
  const laid = new Set(tiles?.flat() ?? []);
  const known = new Set([...places, ...leftOut].map(({ place }) => place));
  const names = (some: readonly PlaceOfOverview[]): string[] => some.map(({ place }) => place);
  return {
    id: `overview-${estimate}`,
    title: message("compare.overview.title", { estimate: name }),
    finding: findingOf(places, estimate),
    meaning: [
      ...named("meaning.rise", of("rise")),
      ...named("meaning.fall", of("fall")),
      message(`compare.overview.meaning.${stepped ? "unclear" : "extremes"}`),
    ],
    cautions: [
      ...named("caution.absent", leftOut.map(surveyName)),
      ...(tiles === null ? [] : named("caution.not-laid-out", names(places.filter(({ place }) => !laid.has(place))))),
      ...named(
        "caution.unknown-tiles",
        [...laid].filter((each) => !isGap(each) && !known.has(each)),
      ),
      ...(placed.length < places.length
        ? [message("compare.overview.caution.not-drawn", { drawn: placed.length, places: places.length })]
        : []),
      ...(stepped ? [message("compare.overview.caution.seasons")] : []),
    ],
    charts: [
      {
        kind: "tiles",
        id: `overview-${estimate}`,
        title: message("compare.overview.chart.title", { estimate: name }),
        alternative: message("compare.overview.chart.alternative", {
          estimate: name,
          places: places.length,
          rose: of("rise").length,
          fell: of("fall").length,
        }),
        y: { label: name, unit: unitsOf(estimate).value },
        ...(tiles === null ? {} : { asMap: true }),
        tiles: placed.map((each) => tileOf(each, tiles === null)),
      },
    ],
    tables: [tableOf(ordered, estimate)],
    method: [
      message(`compare.overview.method.layout.${tiles === null ? "movers" : "settings"}`),
      ...(stepped ? [message("compare.overview.method.verdict")] : []),
    ],
    sources: [],
  };
}

/**
 * One block for each estimate that at least two places have: every place as a small picture of its rounds, laid out by
 * `settings.tiles`, else by group with the clearest changes first. Only surveys that can stand on one axis are drawn.
 */
export function overviewOf(
  summaries: readonly SurveySummary[],
  differences: readonly Difference[],
  settings: Pick<CompareSettings, "tiles" | "estimates">,
  comparability: Pick<Comparability, "rule" | "together">,
): Block[] {
  return comparedEstimates(summaries, settings.estimates).flatMap((estimate) => {
    const own = new Map(differences.filter((each) => each.estimate === estimate).map((each) => [each.pair, each]));
    const { surveys } = comparability.together(estimate);
    const places = placesOf(surveys, own, estimate, comparability.rule).filter(({ rounds }) => rounds.length > 0);
    const drawn = new Set(places.flatMap(({ rounds }) => rounds.map(({ survey }) => survey.key)));
    const block = blockOf(
      estimate,
      places,
      summaries.filter(({ key }) => !drawn.has(key)),
      settings,
    );
    return block === null ? [] : [block];
  });
}
