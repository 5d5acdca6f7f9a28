import type { RandomStream } from "./random.js";
import { choleskyOf, dot, inverse, type Matrix, plus, times, type Vector, zeros } from "./small-matrix.js";

/** A unit with several measures: means of a cell, with the inverse of their covariance. */
export interface OffsetCell {
  readonly y: Vector;
  readonly precision: Matrix;
  /** The group whose offset it may carry, from 0. */
  readonly group: number;
  /** A place whose level it shares with other cells, from 0. */
  readonly place: number;
  /** What a trend over all cells goes along; 0 where none is looked at. */
  readonly along: number;
}

/** One thing that may be wrong with a group: every cell of it moved by amount times its direction. */
export interface OffsetKind {
  /** Chance beforehand that a group has it. */
  readonly prior: number;
  /** Standard deviation beforehand of the amount where a group has it. */
  readonly spread: number;
  /** Direction of each cell: what one unit of the amount does to its measures. */
  readonly direction: readonly Vector[];
}

export interface OffsetModel {
  readonly cells: readonly OffsetCell[];
  readonly groupCount: number;
  readonly placeCount: number;
  /** At most one of them is wrong with a group. */
  readonly kinds: readonly OffsetKind[];
  /** Covariance of true differences between places, and between groups. */
  readonly placeCovariance: Matrix;
  readonly groupCovariance: Matrix;
  /** Whether a trend that all cells share is taken out. */
  readonly hasTrend: boolean;
}

/** What is wrong with each group in one draw: the kind (-1 nothing) and the amount. */
export interface OffsetDraw {
  readonly kind: Int8Array;
  readonly amount: Float64Array;
}

/** Draws thrown away at the beginning, and steps between two draws that are kept. */
const settling = 60;
const between = 3;

/** A draw from N(C m, C), C the inverse of a precision. */
function drawFrom(precision: Matrix, score: Vector, random: RandomStream): number[] {
  const covariance = inverse(precision);
  if (covariance === null) return score.map(() => 0);
  const mean = times(covariance, score);
  const factor = choleskyOf(covariance);
  const deviates = mean.map(() => random.normal());
  return mean.map((value, i) => value + dot(factor[i] ?? [], deviates));
}

/** Sums over the cells of one group that do not change from draw to draw. */
interface GroupSums {
  readonly cells: readonly number[];
  /** Inverse of (sum of precisions + inverse of the group covariance). */
  readonly inner: Matrix;
  readonly innerInverse: Matrix;
  /** For each kind: sum V^-1 x, and the information on the amount with the group's own level taken out. */
  readonly loads: readonly Vector[];
  readonly information: readonly number[];
}

function sumsOf(model: OffsetModel, group: number, groupPrecision: Matrix): GroupSums {
  const cells = [...model.cells.keys()].filter((c) => model.cells[c]?.group === group);
  const size = model.groupCovariance.length;
  let total: number[][] = groupPrecision.map((row) => [...row]);
  for (const c of cells) total = plus(total, model.cells[c]?.precision ?? []);
  const inner = inverse(total) ?? zeros(size);
  const loads = model.kinds.map(({ direction }) => {
    const sum = new Array<number>(size).fill(0);
    for (const c of cells) {
      const load = times(model.cells[c]?.precision ?? [], direction[c] ?? []);
      for (let k = 0; k < size; k++) sum[k] = (sum[k] as number) + (load[k] as number);
    }
    return sum;
  });
  const information = model.kinds.map(({ direction }, kind) => {
    let own = 0;
    for (const c of cells) own += dot(direction[c] ?? [], times(model.cells[c]?.precision ?? [], direction[c] ?? []));
    const load = loads[kind] ?? [];
    return own - dot(load, times(inner, load));
  });
  return { cells, inner, innerInverse: total, loads, information };
}

/** The state of the sampler. */
interface State {
  mean: number[];
  trend: number[];
  readonly places: number[][];
  readonly groups: number[][];
  readonly kind: Int8Array;
  readonly amount: Float64Array;
}

/** What is left of a cell when the parts that are asked for are taken away. */
function restOf(model: OffsetModel, state: State, c: number, keep: "fixed" | "place" | "group"): number[] {
  const cell = model.cells[c] as OffsetCell;
  const kind = state.kind[cell.group] as number;
  const amount = state.amount[cell.group] as number;
  const direction = kind < 0 ? null : (model.kinds[kind]?.direction[c] ?? null);
  return cell.y.map((value, k) => {
    let rest = value;
    if (keep !== "fixed") rest -= (state.mean[k] as number) + cell.along * (state.trend[k] as number);
    if (keep !== "place") rest -= state.places[cell.place]?.[k] ?? 0;
    if (keep !== "group") {
      rest -= state.groups[cell.group]?.[k] ?? 0;
      if (direction !== null) rest -= amount * (direction[k] ?? 0);
    }
    return rest;
  });
}

/** Draws the mean of all cells and, where it is looked at, their common trend: flat beforehand. */
function drawFixed(model: OffsetModel, state: State, random: RandomStream): void {
  const size = state.mean.length;
  const width = model.hasTrend ? 2 * size : size;
  const precision = zeros(width);
  const score = new Array<number>(width).fill(0);
  model.cells.forEach((cell, c) => {
    const rest = times(cell.precision, restOf(model, state, c, "fixed"));
    const factors = model.hasTrend ? [1, cell.along] : [1];
    factors.forEach((one, a) => {
      for (let i = 0; i < size; i++) {
        score[a * size + i] = (score[a * size + i] as number) + one * (rest[i] as number);
        factors.forEach((other, b) => {
          const row = precision[a * size + i] as number[];
          for (let j = 0; j < size; j++)
            row[b * size + j] = (row[b * size + j] as number) + one * other * (cell.precision[i]?.[j] ?? 0);
        });
      }
    });
  });
  const drawn = drawFrom(precision, score, random);
  state.mean = drawn.slice(0, size);
  if (model.hasTrend) state.trend = drawn.slice(size);
}

function drawPlaces(model: OffsetModel, state: State, placePrecision: Matrix, random: RandomStream): void {
  if (model.placeCount < 2) return;
  const precisions = Array.from({ length: model.placeCount }, () => placePrecision.map((row) => [...row]));
  const scores = Array.from({ length: model.placeCount }, () => new Array<number>(state.mean.length).fill(0));
  model.cells.forEach((cell, c) => {
    precisions[cell.place] = plus(precisions[cell.place] ?? [], cell.precision);
    const rest = times(cell.precision, restOf(model, state, c, "place"));
    scores[cell.place] = (scores[cell.place] ?? []).map((value, k) => value + (rest[k] as number));
  });
  for (let p = 0; p < model.placeCount; p++) state.places[p] = drawFrom(precisions[p] ?? [], scores[p] ?? [], random);
}

/** Draws what is wrong with one group, its own true level integrated out, and then that level. */
function drawGroup(model: OffsetModel, state: State, group: number, sums: GroupSums, random: RandomStream): void {
  const size = state.mean.length;
  const total = new Array<number>(size).fill(0);
  const scores = new Array<number>(model.kinds.length).fill(0);
  for (const c of sums.cells) {
    const rest = times((model.cells[c] as OffsetCell).precision, restOf(model, state, c, "group"));
    for (let k = 0; k < size; k++) total[k] = (total[k] as number) + (rest[k] as number);
    model.kinds.forEach(({ direction }, kind) => {
      scores[kind] = (scores[kind] as number) + dot(direction[c] ?? [], rest);
    });
  }
  const shrunk = times(sums.inner, total);
  const logs = model.kinds.map(({ prior, spread }, kind) => {
    const information = sums.information[kind] as number;
    const score = (scores[kind] as number) - dot(sums.loads[kind] ?? [], shrunk);
    const precision = information + 1 / spread ** 2;
    return Math.log(prior) - 0.5 * Math.log(precision * spread ** 2) + score ** 2 / (2 * precision);
  });
  const nothing = Math.log(1 - model.kinds.reduce((sum, { prior }) => sum + prior, 0));
  const kind = chosen([...logs, nothing], random);
  if (kind === model.kinds.length) {
    state.kind[group] = -1;
    state.amount[group] = 0;
    random.normal();
  } else {
    const score = (scores[kind] as number) - dot(sums.loads[kind] ?? [], shrunk);
    const precision = (sums.information[kind] as number) + 1 / (model.kinds[kind]?.spread ?? 1) ** 2;
    state.kind[group] = kind;
    state.amount[group] = score / precision + random.normal() / Math.sqrt(precision);
  }
  const load = sums.loads[kind] ?? new Array<number>(size).fill(0);
  const amount = state.amount[group] as number;
  state.groups[group] = drawFrom(
    sums.innerInverse,
    total.map((value, k) => value - amount * (load[k] as number)),
    random,
  );
}

/** One of several, in proportion to exp(log). */
function chosen(logs: readonly number[], random: RandomStream): number {
  const highest = Math.max(...logs);
  const weights = logs.map((log) => Math.exp(log - highest));
  let left = random.uniform() * weights.reduce((sum, weight) => sum + weight, 0);
  for (let k = 0; k < weights.length - 1; k++) {
    left -= weights[k] as number;
    if (left <= 0) return k;
  }
  return weights.length - 1;
}

/**
 * What may be wrong with the groups of a set of cells, drawn from its distribution given the cells (Gibbs sampling):
 *
 *   y_c = mean + trend along_c + place_p(c) + group_g(c) + amount_g direction_k(g),c + e_c,   e_c ~ N(0, V_c)
 *
 * with true differences between places and groups normal, and for each group at most one kind k of offset, with the chance
 * `prior` and an amount from N(0, spread^2): 'spike and slab' (Mitchell and Beauchamp, JASA 1988;83:1023-32, from memory).
 * That most groups have nothing wrong shrinks the offset of one that stands out of many by chance; that a group is held
 * against the others as each draw has put them right keeps a wrong one from spoiling what the next is held against. The
 * group's own true level is integrated out before a kind is drawn.
 */
export function drawOffsetsOfGroups(model: OffsetModel, draws: number, random: RandomStream): OffsetDraw[] {
  const size = model.groupCovariance.length;
  const nought = (): number[] => new Array<number>(size).fill(0);
  const state: State = {
    mean: nought(),
    trend: nought(),
    places: Array.from({ length: model.placeCount }, nought),
    groups: Array.from({ length: model.groupCount }, nought),
    kind: new Int8Array(model.groupCount).fill(-1),
    amount: new Float64Array(model.groupCount),
  };
  const groupPrecision = inverse(model.groupCovariance) ?? zeros(size);
  const placePrecision = inverse(model.placeCovariance) ?? zeros(size);
  const sums = Array.from({ length: model.groupCount }, (_, group) => sumsOf(model, group, groupPrecision));
  const kept: OffsetDraw[] = [];
  for (let step = 0; kept.length < draws; step++) {
    drawFixed(model, state, random);
    drawPlaces(model, state, placePrecision, random);
    sums.forEach((own, group) => {
      if (own.cells.length > 0) drawGroup(model, state, group, own, random);
    });
    if (step >= settling && step % between === 0) kept.push({ kind: state.kind.slice(), amount: state.amount.slice() });
  }
  return kept;
}
