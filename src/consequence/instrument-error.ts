import type { Children, IndexId, ZColumn } from "../derive/children.js";
import { exclusionsOf } from "../derive/exclusions.js";
import { outcome, scoreCriterion } from "../derive/outcome.js";
import { placeHeights } from "../derive/position.js";
import { type ScoreInput, scoreIndex, scoreInputOf } from "../derive/scores.js";
import type { Headline, World } from "./scenario.js";

type Measure = "weight" | "height" | "arm";

/** Positions of the children whose measurement was off. */
function whoseOf({ children }: World, team: number | null): Int32Array {
  const all = Int32Array.from({ length: children.count }, (_, i) => i);
  return team === null ? all : all.filter((i) => children.team?.codes[i] === team);
}

function inputOf(world: World, whose: Int32Array): ScoreInput {
  const { settings, children } = world;
  const whole = scoreInputOf(children, settings.exclusions.widthAroundMean);
  if (whose.length === children.count) return whole;
  const numbers = (column: Float64Array | null): Float64Array | null =>
    column === null ? null : Float64Array.from(whose, (i) => column[i] ?? Number.NaN);
  const codes = (column: Uint8Array | null): Uint8Array | null =>
    column === null ? null : Uint8Array.from(whose, (i) => column[i] ?? 0);
  return {
    sex: codes(whole.sex) as Uint8Array,
    ageDays: numbers(whole.ageDays) as Float64Array,
    weight: numbers(whole.weight),
    height: numbers(whole.height),
    arm: numbers(whole.arm),
    head: null,
    position: codes(whole.position),
    oedema: codes(whole.oedema),
    widthAroundMean: whole.widthAroundMean,
  };
}

/** One index of all children, with that of some of them derived again and the exclusions of all decided anew. */
function mixed(world: World, index: IndexId, whose: Int32Array, own: Pick<ZColumn, "z" | "why">): ZColumn {
  const z = Float64Array.from(world.children.indices[index].z);
  const why = Uint8Array.from(world.children.indices[index].why);
  whose.forEach((child, k) => {
    z[child] = own.z[k] ?? Number.NaN;
    why[child] = own.why[k] ?? 0;
  });
  return { z, why, ...exclusionsOf(z, index, world.settings.exclusions.widthAroundMean) };
}

/** Weighted share of cases, as the full estimate has it. */
function shareOf(world: World, headline: Headline, children: Children): number {
  const { isCase, inDomain } = outcome(children, headline.estimate.outcome, world.rule);
  const { weight } = world.design;
  let cases = 0;
  let all = 0;
  for (let i = 0; i < children.count; i++) {
    const own = weight[i] ?? 0;
    if (inDomain[i] !== 1 || !(own > 0)) continue;
    all += own;
    if (isCase[i] === 1) cases += own;
  }
  return cases / all;
}

/**
 * The prevalence with one measure of one team's children (null: of all) moved by an amount in the measure's unit. The
 * same figure as estimating again from scratch; only the one index the prevalence rests on, of the children concerned,
 * is derived again, so that a search over many amounts stays fast.
 */
export function shiftedPrevalence(
  world: World,
  headline: Headline,
  measure: Measure,
  team: number | null,
): (by: number) => number {
  const { children } = world;
  const column = children[measure];
  const whose = whoseOf(world, team);
  const input = inputOf(world, whose);
  const index = scoreCriterion(headline.estimate.outcome)?.index ?? null;
  return (by) => {
    if (column === null) return headline.published.value;
    const values = Float64Array.from(column.values);
    for (const child of whose) values[child] = (values[child] ?? Number.NaN) + by;
    const moved: Children = { ...children, [measure]: { ...column, values } };
    if (index === null) return shareOf(world, headline, moved);
    const changed: ScoreInput = {
      ...input,
      [measure]: Float64Array.from(whose, (child) => values[child] ?? Number.NaN),
    };
    const placed = placeHeights(changed.ageDays, changed.height, changed.position);
    const own = scoreIndex(index, changed, placed);
    return shareOf(world, headline, {
      ...moved,
      indices: { ...children.indices, [index]: mixed(world, index, whose, own) },
    });
  };
}
