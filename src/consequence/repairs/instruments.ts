import { placesShared } from "../../checks/teams-differ/team-levels.js";
import { type Children, type IndexId, indexIds } from "../../derive/children.js";
import { usable } from "../../derive/exclusions.js";
import { rescore } from "../../derive/rescore.js";
import type { OffsetCell, OffsetKind, OffsetModel } from "../../stats/group-offsets.js";
import { leastSquares } from "../../stats/least-squares.js";
import { inverse, plus, zeros } from "../../stats/small-matrix.js";
import type { World } from "../scenario.js";

export type Instrument = "scale" | "board" | "tape";

/** One way an instrument of a team may be wrong. */
export interface Suspicion {
  readonly instrument: Instrument;
  /** 'offset' the same all along; 'drift' growing from nought on the team's first day, amount a day. */
  readonly course: "offset" | "drift";
}

/** What each instrument measures. */
export const measures = { scale: "weight", board: "height", tape: "arm" } as const;

/** Small changes of each measure, in its unit, from which directions are taken. */
const nudges = { scale: 0.1, board: 0.2, tape: 1 } as const;

/**
 * How often a team's instrument is wrong beforehand, and by how much where it is (kg, cm, mm; a day for a drift, over about
 * ten days). Own judgement, tried on invented surveys (docs/claims.md): with these the largest of many honest teams is left
 * alone, and a scale that reads 300 g wrong is found.
 */
const beforehand: readonly (Suspicion & { readonly prior: number; readonly spread: number })[] = [
  { instrument: "scale", course: "offset", prior: 0.02, spread: 0.3 },
  { instrument: "board", course: "offset", prior: 0.02, spread: 1.5 },
  { instrument: "tape", course: "offset", prior: 0.02, spread: 6 },
  { instrument: "scale", course: "drift", prior: 0.015, spread: 0.05 },
];

/** Standard deviation of true differences between teams, and between places, in z. Judgement. */
const trueSpread = { teams: 0.08, places: 0.25 } as const;

const ages = { from: 6, to: 60 } as const;
const fewestChildren = 50;
const fewestCells = 8;

/** What the survey says of its teams' instruments: the model, and what each of its kinds means. */
export interface InstrumentModel {
  readonly model: OffsetModel;
  readonly suspicions: readonly Suspicion[];
  /** Days since the team's first day, of every child; NaN where unknown. */
  readonly daysOn: Float64Array;
}

function indicesIn({ weight, height, arm }: Children): IndexId[] {
  const found: IndexId[] = [];
  if (weight !== null && height !== null) found.push("weight-for-height");
  if (height !== null) found.push("height-for-age");
  if (arm !== null) found.push("arm-for-age");
  return found;
}

/** 1 for children in whom all the indices are kept, of an age at which all can be had. */
function completeOf(world: World, indices: readonly IndexId[]): Uint8Array {
  const { children, rule } = world;
  const kept = indices.map((index) => usable(children, index, rule));
  return Uint8Array.from({ length: children.count }, (_, i) => {
    const months = children.ageMonths[i] ?? Number.NaN;
    const team = children.team?.codes[i] ?? -1;
    return months >= ages.from && months < ages.to && team >= 0 && kept.every((one) => one[i] === 1) ? 1 : 0;
  });
}

/** The index less what age alone gives it in this survey. */
function adjustedForAge(children: Children, index: IndexId, rows: readonly number[]): Float64Array {
  const age = (power: number) => Float64Array.from(rows, (i) => ((children.ageMonths[i] ?? 0) / 60) ** power);
  const columns = [age(0), age(0.5), age(1), age(2)];
  const z = Float64Array.from(rows, (i) => children.indices[index].z[i] ?? 0);
  const { coefficients } = leastSquares(columns, z);
  return z.map((value, k) =>
    columns.reduce((rest, column, c) => rest - (coefficients[c] ?? 0) * (column[k] ?? 0), value),
  );
}

/** What one unit of each instrument's measure does to each index of each child. */
function slopesOf(world: World, instrument: Instrument, indices: readonly IndexId[]): Float64Array[] | null {
  const { children, settings } = world;
  const column = children[measures[instrument]];
  if (column === null) return null;
  const by = nudges[instrument];
  const width = settings.exclusions.widthAroundMean;
  const at = (shift: number) =>
    rescore(children, { [measures[instrument]]: column.values.map((value) => value + shift) }, width, indexIds);
  const [more, less] = [at(by), at(-by)];
  return indices.map((index) => {
    const high = more.indices[index].z;
    const low = less.indices[index].z;
    return high.map((value, i) => (value - (low[i] ?? Number.NaN)) / (2 * by));
  });
}

interface Cell {
  readonly rows: number[];
  readonly team: number;
  readonly place: number;
}

/** Children of one team in one cluster (without clusters: on one day) and place. */
function cellsOf(children: Children, rows: readonly number[], place: (i: number) => number): Cell[] {
  const cells = new Map<string, Cell>();
  rows.forEach((i, k) => {
    const team = children.team?.codes[i] ?? -1;
    const unit = children.cluster === null ? `day ${children.interviewDay?.[i] ?? 0}` : children.cluster.codes[i];
    const key = `${team} ${unit} ${place(i)}`;
    const cell = cells.get(key) ?? { rows: [], team, place: place(i) };
    cell.rows.push(k);
    cells.set(key, cell);
  });
  return [...cells.values()];
}

/** Days since each team's first day. */
function daysOnOf({ team, interviewDay, count }: Children): Float64Array {
  const first = new Map<number, number>();
  for (let i = 0; i < count; i++) {
    const day = interviewDay?.[i] ?? Number.NaN;
    const code = team?.codes[i] ?? -1;
    if (!Number.isNaN(day)) first.set(code, Math.min(day, first.get(code) ?? day));
  }
  return Float64Array.from({ length: count }, (_, i) => {
    const day = interviewDay?.[i] ?? Number.NaN;
    return day - (first.get(team?.codes[i] ?? -1) ?? Number.NaN);
  });
}

const meanOf = (values: Float64Array, rows: readonly number[]): number =>
  rows.reduce((sum, k) => sum + (values[k] ?? 0), 0) / rows.length;

/** Components of covariance within cells and between the cells of a team, by moments; the second not below nought. */
function componentsOf(cells: readonly Cell[], values: readonly Float64Array[], clustered: boolean) {
  const size = values.length;
  const within = zeros(size);
  const between = zeros(size);
  const teams = new Map<number, Cell[]>();
  for (const cell of cells) teams.set(cell.team, [...(teams.get(cell.team) ?? []), cell]);
  let n = 0;
  let loss = 0;
  let squares = 0;
  for (const own of teams.values()) {
    const all = own.flatMap(({ rows }) => rows);
    loss += all.length;
    squares += own.reduce((sum, { rows }) => sum + rows.length ** 2, 0) / all.length;
  }
  let cellDf = 0;
  for (const own of teams.values()) {
    const all = own.flatMap(({ rows }) => rows);
    const teamMeans = values.map((column) => meanOf(column, all));
    cellDf += own.length - 1;
    for (const { rows } of own) {
      n += rows.length - 1;
      const means = values.map((column) => meanOf(column, rows));
      for (let a = 0; a < size; a++)
        for (let b = 0; b < size; b++) {
          const [first, second] = [values[a] as Float64Array, values[b] as Float64Array];
          const inside = within[a] as number[];
          for (const k of rows)
            inside[b] =
              (inside[b] as number) +
              ((first[k] as number) - (means[a] as number)) * ((second[k] as number) - (means[b] as number));
          const row = between[a] as number[];
          row[b] =
            (row[b] as number) +
            rows.length *
              ((means[a] as number) - (teamMeans[a] as number)) *
              ((means[b] as number) - (teamMeans[b] as number));
        }
    }
  }
  if (n < fewestCells || cellDf < 1) return null;
  const inside = within.map((row) => row.map((value) => value / n));
  const typical = (loss - squares) / cellDf;
  const raw = between.map((row, a) => row.map((value, b) => (value / cellDf - (inside[a]?.[b] ?? 0)) / typical));
  return { within: inside, between: clustered ? notNegative(raw) : zeros(size) };
}

/** The nearest simple matrix that can be a covariance: no variance below nought, no correlation beyond 0.9. */
function notNegative(raw: readonly (readonly number[])[]): number[][] {
  const sd = raw.map((row, a) => Math.sqrt(Math.max(0, row[a] ?? 0)));
  return raw.map((row, a) =>
    row.map((value, b) => {
      if (a === b) return (sd[a] ?? 0) ** 2;
      const most = 0.9 * (sd[a] ?? 0) * (sd[b] ?? 0);
      return Math.max(-most, Math.min(most, value));
    }),
  );
}

/** A covariance with these standard deviations and the correlations of another, drawn somewhat to nought. */
function scaledTo(shape: readonly (readonly number[])[], sd: number): number[][] {
  return shape.map((row, a) =>
    row.map((value, b) => {
      const size = Math.sqrt((shape[a]?.[a] ?? 1) * (shape[b]?.[b] ?? 1));
      return sd ** 2 * (a === b ? 1 : (0.9 * value) / size);
    }),
  );
}

/**
 * What the survey's teams say of their instruments. Means of weight-for-height, height-for-age and arm-for-age (each less
 * what age gives it) of every team's clusters are held against those of the others: a scale that reads wrong moves weight
 * and not the other two, a board height-for-age one way and weight-for-height the other, a tape the arm alone, each along a
 * direction that the growth standards give; true differences between children move them otherwise. Null where there are too
 * few children, teams or clusters to say anything.
 */
export function instrumentModel(world: World): InstrumentModel | null {
  const { children } = world;
  const indices = indicesIn(children);
  if (children.team === null || indices.length === 0) return null;
  const complete = completeOf(world, indices);
  const rows = [...complete.keys()].filter((i) => complete[i] === 1);
  const teams = new Set(rows.map((i) => children.team?.codes[i] ?? -1));
  if (rows.length < fewestChildren || teams.size < 2) return null;
  const shared = placesShared(children)?.column ?? children.area ?? children.stratum;
  const placeOf = (i: number): number => (shared === null ? 0 : (shared.codes[i] ?? -1) + 1);
  const cells = cellsOf(children, rows, placeOf);
  if (cells.length < fewestCells) return null;
  const values = indices.map((index) => adjustedForAge(children, index, rows));
  const components = componentsOf(cells, values, children.cluster !== null);
  if (components === null) return null;
  const daysOn = daysOnOf(children);
  const dayOf = (cell: Cell): number => {
    const known = cell.rows.map((k) => daysOn[rows[k] ?? 0] ?? Number.NaN).filter((day) => !Number.isNaN(day));
    return known.length === 0 ? 0 : known.reduce((sum, day) => sum + day, 0) / known.length;
  };
  const hasDays = rows.some((i) => (daysOn[i] ?? 0) > 2);
  const kinds: OffsetKind[] = [];
  const suspicions: Suspicion[] = [];
  const slopes = new Map<Instrument, Float64Array[] | null>();
  for (const { instrument, course, prior, spread } of beforehand) {
    if (course === "drift" && !hasDays) continue;
    if (!slopes.has(instrument)) slopes.set(instrument, slopesOf(world, instrument, indices));
    const own = slopes.get(instrument) ?? null;
    // An instrument that moves none of the indices by itself cannot be seen: a scale without heights.
    if (own === null) continue;
    const direction = cells.map((cell) => {
      const factor = course === "drift" ? dayOf(cell) : 1;
      return own.map((column) => {
        const known = cell.rows.map((k) => column[rows[k] ?? 0] ?? Number.NaN).filter((one) => !Number.isNaN(one));
        return known.length === 0 ? 0 : (factor * known.reduce((sum, one) => sum + one, 0)) / known.length;
      });
    });
    if (direction.every((one) => one.every((value) => value === 0))) continue;
    kinds.push({ prior, spread, direction });
    suspicions.push({ instrument, course });
  }
  if (kinds.length === 0) return null;
  const offsetCells: OffsetCell[] = [];
  for (const cell of cells) {
    const precision = inverse(plus(components.between, components.within, 1 / cell.rows.length));
    if (precision === null) return null;
    const y = values.map((column) => meanOf(column, cell.rows));
    offsetCells.push({ y, precision, group: cell.team, place: cell.place, along: dayOf(cell) });
  }
  const shape = plus(components.within, components.between);
  const model = {
    cells: offsetCells,
    groupCount: children.team.labels.length,
    placeCount: shared === null ? 1 : shared.labels.length + 1,
    kinds,
    placeCovariance: scaledTo(shape, trueSpread.places),
    groupCovariance: scaledTo(shape, trueSpread.teams),
    hasTrend: hasDays,
  };
  return { model, suspicions, daysOn };
}
