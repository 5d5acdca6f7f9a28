import type { IndexId, ZColumn } from "../derive/children.js";
import { takeRows } from "../derive/columns.js";
import { exclusionsOf } from "../derive/exclusions.js";
import { type OutcomeColumns, type OutcomeInput, outcome, scoreCriterion } from "../derive/outcome.js";
import { type Placed, placeHeights } from "../derive/position.js";
import { type ScoreInput, scoreIndex, scoreInputOf } from "../derive/scores.js";
import type { Headline, World } from "./scenario.js";

type Measure = "weight" | "height" | "arm";

/** Positions of the children whose measurement was off. */
function whoseOf({ children }: World, team: number | null): Int32Array {
  const all = new Int32Array(children.count);
  let n = 0;
  for (let i = 0; i < children.count; i++) if (team === null || children.team?.codes[i] === team) all[n++] = i;
  return all.slice(0, n);
}

function inputOf(world: World, whose: Int32Array): ScoreInput {
  const { settings, children } = world;
  const whole = scoreInputOf(children, settings.exclusions.widthAroundMean);
  if (whose.length === children.count) return whole;
  const numbers = (column: Float64Array | null) => (column === null ? null : takeRows(column, whose));
  const codes = (column: Uint8Array | null) => (column === null ? null : takeRows(column, whose));
  return {
    sex: takeRows(whole.sex, whose),
    ageDays: takeRows(whole.ageDays, whose),
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
  const z = world.children.indices[index].z.slice();
  const why = world.children.indices[index].why.slice();
  for (let k = 0; k < whose.length; k++) {
    z[whose[k] as number] = own.z[k] as number;
    why[whose[k] as number] = own.why[k] as number;
  }
  return { z, why, ...exclusionsOf(z, index, world.settings.exclusions.widthAroundMean) };
}

/** Weighted share of cases, as the full estimate has it. */
function shareOf({ design }: World, { isCase, inDomain }: OutcomeColumns): number {
  const { weight } = design;
  let cases = 0;
  let all = 0;
  // The design's weights are 0 for children who cannot count; a case is always in the denominator.
  for (let i = 0; i < weight.length; i++) {
    all += (inDomain[i] as number) * (weight[i] as number);
    cases += (isCase[i] as number) * (weight[i] as number);
  }
  return cases / all;
}

/** The columns of the whole survey with those of some children put in their place. */
function patched(whole: OutcomeColumns, whose: Int32Array, own: OutcomeColumns): OutcomeColumns {
  const isCase = whole.isCase.slice();
  const inDomain = whole.inDomain.slice();
  for (let k = 0; k < whose.length; k++) {
    isCase[whose[k] as number] = own.isCase[k] as number;
    inDomain[whose[k] as number] = own.inDomain[k] as number;
  }
  return { isCase, inDomain };
}

/** What one headline needs to be estimated again with one measure of some children moved. */
interface Search {
  readonly world: World;
  readonly headline: Headline;
  readonly measure: Measure;
  readonly whose: Int32Array;
  readonly input: ScoreInput;
  /** Positions and heights before the move. */
  readonly placed: Placed;
  /** The index that the headline rests on; null where it rests on arm circumference. */
  readonly index: IndexId | null;
}

/** Cases and denominator among the children concerned alone; null where that cannot be told without the others. */
function ownColumns({ world, headline, input, index }: Search, moved: ScoreInput, own: ZColumn | null) {
  // Limits around the mean move for everybody when some are moved.
  if (world.rule === "around-mean") return null;
  const { indices, arm } = world.children;
  const part: OutcomeInput = {
    count: input.sex.length,
    ageDays: input.ageDays,
    oedema: input.oedema,
    arm: arm === null || moved.arm === null ? null : { ...arm, values: moved.arm },
    indices: index === null || own === null ? indices : { ...indices, [index]: own },
  };
  const columns = outcome(part, headline.estimate.outcome, world.rule);
  // With nobody judged among them, whether their oedema counts hangs on the others.
  return columns.inDomain.includes(1) ? columns : null;
}

/** Cases and denominator of all children, everything decided anew. */
function allColumns({ world, headline, whose, index }: Search, moved: ScoreInput, own: ZColumn | null): OutcomeColumns {
  const { children, rule } = world;
  const id = headline.estimate.outcome;
  if (index !== null && own !== null) {
    return outcome(
      { ...children, indices: { ...children.indices, [index]: mixed(world, index, whose, own) } },
      id,
      rule,
    );
  }
  if (children.arm === null || moved.arm === null) return outcome(children, id, rule);
  const values = children.arm.values.slice();
  for (let k = 0; k < whose.length; k++) values[whose[k] as number] = moved.arm[k] as number;
  return outcome({ ...children, arm: { ...children.arm, values } }, id, rule);
}

function placedOf({ ageDays, height, position }: ScoreInput): Placed {
  return placeHeights(ageDays, height, position);
}

function shifted(search: Search, by: number): number {
  const { world, headline, measure, whose, input, index } = search;
  const values = (input[measure] ?? new Float64Array(0)).slice();
  for (let k = 0; k < values.length; k++) values[k] = (values[k] as number) + by;
  const moved: ScoreInput = { ...input, [measure]: values };
  const placed = measure === "height" ? placedOf(moved) : search.placed;
  const own = index === null ? null : scoreIndex(index, moved, placed);
  const columns = ownColumns(search, moved, own);
  if (columns === null) return shareOf(world, allColumns(search, moved, own));
  const whole = outcome(world.children, headline.estimate.outcome, world.rule);
  return shareOf(world, patched(whole, whose, columns));
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
  if (world.children[measure] === null) return () => headline.published.value;
  const whose = whoseOf(world, team);
  const index = scoreCriterion(headline.estimate.outcome)?.index ?? null;
  const input = inputOf(world, whose);
  const search = { world, headline, measure, whose, input, placed: placedOf(input), index };
  return (by) => shifted(search, by);
}
