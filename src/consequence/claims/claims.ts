import type { Answer, Claim, Decision, RepairResult } from "../../results/schema.js";
import { chanceAtOrAbove } from "../../stats/chance-above.js";
import { drawnShares, publishedShare } from "./answers.js";

/** A published limit is looked at where it lies no further from the estimate than this on the logit scale. */
const near = 0.9;
/** From this chance on, one side can be said. */
export const settledFrom = 0.95;
/** By so much the findings have to move a chance to be named beside the sample's size. */
const tellingMove = 0.1;
/** So few cases from a limit, and that is said in children. */
const fewChildren = 5;

const logit = (p: number): number => Math.log(p / (1 - p));
const isSettled = (chance: number): boolean => chance >= settledFrom || chance <= 1 - settledFrom;

interface Limit {
  readonly limit: number;
  readonly class: string | null;
  readonly asked: boolean;
  readonly about?: string;
}

/** Published limits near the estimate, or else the nearest on each side; none where the estimate has no interval. */
function publishedLimits({ value, limits }: Answer): Limit[] {
  const begin = limits.filter(({ from }) => from > 0 && from < 1);
  const close = begin.filter(({ from }) => Math.abs(logit(from) - logit(value)) <= near);
  const below = begin.filter(({ from }) => from <= value).at(-1);
  const above = begin.find(({ from }) => from > value);
  const wanted = close.length > 0 ? close : [below, above].filter((one) => one !== undefined);
  return wanted.map(({ class: name, from }) => ({ limit: from, class: name, asked: false }));
}

/** Two limits are one where no printed figure tells them apart. */
const alike = (a: number, b: number): boolean => Math.abs(a - b) < 1e-9;

/** The limits that an estimate is held against, lowest first: those of the classes, and those that the reader asks about. */
export function limitsOf(answer: Answer, decisions: readonly Decision[]): Limit[] {
  const own = decisions.filter(({ estimate }) => estimate === answer.estimate);
  const published = publishedLimits(answer).map((one): Limit => {
    const asked = own.find(({ limit }) => alike(limit, one.limit));
    return asked === undefined ? one : { ...one, asked: true, about: asked.about };
  });
  const more = own
    .filter(({ limit }) => !published.some((one) => alike(one.limit, limit)))
    .map(({ limit, about }): Limit => {
      const begins = answer.limits.find(({ from }) => alike(from, limit));
      return { limit, class: begins?.class ?? null, asked: true, about };
    });
  return [...published, ...more].sort((a, b) => a.limit - b.limit);
}

/** Mean of the draws' chances, and the standard error that the number of draws alone leaves in it. */
export function chanceOfDraws(answer: Answer, limit: number): { readonly mean: number; readonly error: number } {
  const chances = drawnShares(answer)
    .map((share) => chanceAtOrAbove(share, limit))
    .filter((chance) => !Number.isNaN(chance));
  const count = chances.length;
  if (count === 0) return { mean: Number.NaN, error: 0 };
  const mean = chances.reduce((sum, one) => sum + one, 0) / count;
  const variance = chances.reduce((sum, one) => sum + (one - mean) ** 2, 0) / Math.max(1, count - 1);
  return { mean, error: answer.draws === null ? 0 : Math.sqrt(variance / count) };
}

/** The repair that moves the estimate most towards the limit, or past it; the largest of any where none does. */
function telling(answer: Answer, limit: number, repairs: readonly RepairResult[]): string | null {
  const towards = limit <= answer.value ? -1 : 1;
  const moves = repairs.flatMap(({ id, outcomes }) =>
    outcomes.filter(({ estimate }) => estimate === answer.estimate).map(({ shift }) => ({ id, shift })),
  );
  const largest = (list: typeof moves) =>
    list.reduce<(typeof moves)[number] | null>(
      (most, one) => (most === null || Math.abs(one.shift) > Math.abs(most.shift) ? one : most),
      null,
    );
  const found = largest(moves.filter(({ shift }) => shift * towards > 0)) ?? largest(moves);
  return found === null || found.shift === 0 ? null : found.id;
}

/** Cases more or fewer that put the estimate on the other side of the limit; null where these are more than a few. */
function childrenTo({ value, n }: Answer, limit: number): number | null {
  const count = value >= limit ? Math.floor((value - limit) * n) + 1 : Math.ceil((limit - value) * n);
  return count <= fewChildren ? Math.max(1, count) : null;
}

/**
 * One claim. q0 is the chance by sampling alone that the true value lies at or above the limit, q1 the mean of it over the draws
 * with the findings put right.
 *
 *   q0 and q1 both 0.95 or more on the same side: can be said
 *   q0 0.95 or more, q1 not:                      left open by the measuring
 *   q0 below 0.95 on either side:                 left open by the sample's size, and by the measuring too where q1 differs by 0.1
 */
function claimOf(answer: Answer, limit: Limit, repairs: readonly RepairResult[]): Claim {
  const byChance = chanceAtOrAbove(publishedShare(answer), limit.limit);
  const { mean: repaired, error } = chanceOfDraws(answer, limit.limit);
  const base = {
    estimate: answer.estimate,
    limit: limit.limit,
    class: limit.class,
    asked: limit.asked,
    ...(limit.about === undefined || limit.about === "" ? {} : { about: limit.about }),
    simulationError: error,
    children: childrenTo(answer, limit.limit),
  };
  if (answer.noClaim !== undefined || Number.isNaN(byChance) || Number.isNaN(repaired)) {
    const side = answer.value >= limit.limit ? "above" : "below";
    return { ...base, byChance: null, repaired: null, state: "unknown", side, measuringToo: false, repair: null };
  }
  const side = repaired >= 0.5 ? "above" : "below";
  const settled = isSettled(byChance);
  const said = settled && isSettled(repaired) && byChance >= 0.5 === repaired >= 0.5;
  const state = said ? "can-be-said" : settled ? "open-measuring" : "open-sample";
  const measuringToo = state === "open-sample" && Math.abs(repaired - byChance) > tellingMove;
  const open = state === "open-measuring" || measuringToo;
  const repair = open ? telling(answer, limit.limit, repairs) : null;
  return { ...base, byChance, repaired, state, side, measuringToo, repair };
}

/** What can be said of the main estimates, and what is left open: from what results.json holds alone. */
export function claimsOf(
  answers: readonly Answer[],
  repairs: readonly RepairResult[],
  decisions: readonly Decision[],
): Claim[] {
  return answers.flatMap((answer) => limitsOf(answer, decisions).map((limit) => claimOf(answer, limit, repairs)));
}
