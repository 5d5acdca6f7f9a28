import type { Difference, Verdict } from "../results/comparison.js";
import type { EstimateCell } from "../results/schema.js";
import { isClear } from "../results/verdict.js";
import { cellUnder } from "./cells.js";
import { surveysByPlace } from "./rounds.js";
import type { SurveySummary } from "./summary.js";

/** More places than this are not all drawn unless the settings lay them out: nobody reads so many pictures. */
const mostTiles = 120;
/** Of more places so many are drawn, which is two pages. */
const tilesOfMany = 60;

/** A place with its rounds of one estimate. */
export interface PlaceOfOverview {
  readonly place: string;
  readonly group: string | null;
  /** From the first round to the last. */
  readonly rounds: readonly {
    readonly survey: SurveySummary;
    readonly value: number;
    readonly cell: EstimateCell;
  }[];
  /** From the round before to the last one; null where there is no round before. */
  readonly last: Difference | null;
}

/** All places of one estimate in the order given, each with its rounds in the order of their days. */
export function placesOf(
  summaries: readonly SurveySummary[],
  differences: ReadonlyMap<string, Difference>,
  estimate: string,
  rule: string,
): PlaceOfOverview[] {
  return [...surveysByPlace(summaries)].map(([place, surveys]) => {
    const rounds = surveys.flatMap((survey) => {
      const cell = cellUnder(survey, estimate, rule);
      return cell === null || cell.value === null ? [] : [{ survey, value: cell.value, cell }];
    });
    const [before, after] = rounds.slice(-2);
    const last = after === undefined ? null : (differences.get(`${before?.survey.key}..${after.survey.key}`) ?? null);
    return { place, group: surveys.find((survey) => survey.group !== null)?.group ?? null, rounds, last };
  });
}

export const verdictOf = ({ rounds, last }: PlaceOfOverview): Verdict | null =>
  rounds.length < 2 ? null : (last?.verdict ?? "cannot-tell");

const changed = (place: PlaceOfOverview): boolean => isClear({ verdict: verdictOf(place) });
const strength = ({ last }: PlaceOfOverview): number =>
  Math.abs((last?.difference ?? 0) / (last?.standardError ?? Number.POSITIVE_INFINITY));
/** Names in the order of their letters, numbers in them by size; the same on every computer. */
const byText = new Intl.Collator("en", { numeric: true }).compare;

/** Order of two places: clear changes first, the strongest first; 0 where neither has one. */
const byChange = (a: PlaceOfOverview, b: PlaceOfOverview): number =>
  Number(changed(b)) - Number(changed(a)) || (changed(a) ? strength(b) - strength(a) : 0);

/** Clear changes first, the strongest first; the others by name. */
function topMoversFirst(places: readonly PlaceOfOverview[]): PlaceOfOverview[] {
  return [...places].sort((a, b) => byChange(a, b) || byText(a.place, b.place));
}

/** The places to draw where there are too many: those with the clearest changes, then those with the highest values. */
export function mostTelling(places: readonly PlaceOfOverview[]): PlaceOfOverview[] {
  if (places.length <= mostTiles) return [...places];
  const last = ({ rounds }: PlaceOfOverview): number => rounds.at(-1)?.value ?? Number.NEGATIVE_INFINITY;
  return [...places].sort((a, b) => byChange(a, b) || last(b) - last(a)).slice(0, tilesOfMany);
}

export interface Placed {
  readonly place: PlaceOfOverview;
  readonly row: number;
  readonly column: number;
}

/** Row by row under their groups, top movers first in each; places without a group come last. */
export function inOrder(places: readonly PlaceOfOverview[], columns: number): Placed[] {
  const groups = [...new Set(places.map(({ group }) => group))].sort((a, b) =>
    a === null ? 1 : b === null ? -1 : byText(a, b),
  );
  let row = 0;
  return groups.flatMap((group) => {
    const own = topMoversFirst(places.filter((place) => place.group === group));
    const start = row;
    row += Math.ceil(own.length / columns);
    return own.map((place, i) => ({ place, row: start + Math.floor(i / columns), column: i % columns }));
  });
}

export const isGap = (name: string): boolean => name === "" || name === ".";

/** Places where the settings put them; those they do not name follow below. */
export function laidOut(places: readonly PlaceOfOverview[], layout: readonly (readonly string[])[]): Placed[] {
  const byName = new Map(places.map((place) => [place.place, place]));
  const seen = new Set<string>();
  const named = layout.flatMap((names, row) =>
    names.flatMap((name, column): Placed[] => {
      const place = byName.get(name);
      if (place === undefined || seen.has(name)) return [];
      seen.add(name);
      return [{ place, row, column }];
    }),
  );
  const others = topMoversFirst(places.filter(({ place }) => !seen.has(place)));
  const columns = Math.max(4, ...layout.map((names) => names.length));
  return [
    ...named,
    ...others.map((place, i) => ({
      place,
      row: layout.length + Math.floor(i / columns),
      column: i % columns,
    })),
  ];
}
