import { message } from "../../results/message.js";
import type { Answer, Claim, Message, Settling } from "../../results/schema.js";
import { normalCumulative, normalQuantile } from "../../stats/normal.js";
import type { DrawnShare, RepairRuns } from "../repairs/draw.js";
import type { Repair } from "../repairs/repair.js";
import type { World } from "../scenario.js";

type Act = Settling["acts"][number];

/** Draws that the preposterior sums go over, both ways. */
const drawsUsed = 60;
/** What gains less than half of one in 100 is not listed. */
const leastGain = 0.005;
const logit = (p: number): number => Math.log(p / (1 - p));

/** The estimate on the logit scale in each draw, its standard error there, and what each repair alone adds to it. */
export interface LogitDraws {
  readonly mean: readonly number[];
  readonly error: readonly number[];
  /** For each repair, draw by draw: logit of the estimate with it alone less that of the published one. */
  readonly moves: readonly (readonly number[])[];
}

const inside = (p: number): boolean => p > 0 && p < 1;

/** Null where an estimate is 0 or 1 in a draw, or has no standard error. */
export function logitDraws(answer: Answer, runs: RepairRuns, h: number): LogitDraws | null {
  const { value, standardError } = answer;
  if (!inside(value) || standardError === null || !(standardError > 1e-12)) return null;
  // Where the draws must not be told nothing is made of them here either.
  const told = answer.draws !== null;
  const count = told ? Math.min(drawsUsed, runs.alone[0]?.length ?? 0) : 1;
  const published: DrawnShare = {
    ...{ estimate: value, standardError, degreesOfFreedom: answer.degreesOfFreedom ?? 0, n: answer.n },
  };
  const joint = Array.from({ length: count }, (_, k) => (told ? runs.joint[k]?.[h] : undefined) ?? published);
  if (joint.some(({ estimate, standardError: own }) => !inside(estimate) || !(own > 1e-12))) return null;
  const moves = runs.repairs.map((_, r) =>
    Array.from({ length: count }, (_, k) => {
      const alone = (told ? runs.alone[r]?.[k]?.[h]?.estimate : undefined) ?? value;
      return inside(alone) ? logit(alone) - logit(value) : 0;
    }),
  );
  return {
    mean: joint.map(({ estimate }) => logit(estimate)),
    error: joint.map(({ estimate, standardError: own }) => own / (estimate * (1 - estimate))),
    moves,
  };
}

const risk = (chance: number): number => Math.min(chance, 1 - chance);
const meanOf = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;

/** Chance above the limit over all draws, each moved by so much. */
function chanceMoved({ mean, error }: LogitDraws, limit: number, move: (k: number) => number): number {
  return meanOf(mean.map((one, k) => normalCumulative((one + move(k) - limit) / (error[k] as number))));
}

/**
 * Expected risk once what some repairs put right is known: for each draw j of it, the chance above the limit over all draws with
 * their own state of these repairs replaced by that of j (repairs add up on the logit scale, near enough: tested against draws in
 * which they are held fixed). Where the amount is only read to an error e, what would be read in draw j counts every draw k with
 * weight exp(-((read - amount_k) / e)^2 / 2).
 */
export function riskWhenKnown(
  draws: LogitDraws,
  limit: number,
  which: readonly number[],
  reading?: { readonly amounts: readonly number[]; readonly error: number },
): number {
  const own = draws.mean.map((_, k) => which.reduce((sum, r) => sum + (draws.moves[r]?.[k] ?? 0), 0));
  const known = own.map((move) => chanceMoved(draws, limit, (k) => move - (own[k] as number)));
  if (reading === undefined) return meanOf(known.map(risk));
  const { amounts, error } = reading;
  return meanOf(
    amounts.map((amount, j) => {
      // One reading a draw, its error spread evenly over the draws as normal quantiles.
      const read = amount + error * normalQuantile((((j * 37) % amounts.length) + 0.5) / amounts.length);
      const weights = amounts.map((other) => Math.exp(-(((read - other) / error) ** 2) / 2));
      const total = weights.reduce((sum, one) => sum + one, 0);
      return risk(weights.reduce((sum, weight, k) => sum + weight * (known[k] as number), 0) / total);
    }),
  );
}

/** Points of the normal distribution that stand for the answer of clusters not yet drawn. */
const points: readonly number[] = Array.from({ length: 41 }, (_, k) => normalQuantile((k + 0.5) / 41));

/**
 * Expected risk once k clusters were added to C: the variance falls to C / (C + k) of what it is, and what the added ones bring
 * the estimate to is itself not known yet, with the variance that is gained.
 */
export function riskWithClusters(draws: LogitDraws, limit: number, clusters: number, more: number): number {
  const left = clusters / (clusters + more);
  const narrower = { ...draws, error: draws.error.map((error) => error * Math.sqrt(left)) };
  return meanOf(
    points.map((point) =>
      risk(chanceMoved(narrower, limit, (k) => point * (draws.error[k] as number) * Math.sqrt(1 - left))),
    ),
  );
}

/** Something that could be done, and what would then be known. */
interface Possible {
  readonly id: string;
  readonly label: Message;
  readonly effort: Message;
  risk(draws: LogitDraws, limit: number): number;
}

const touchedIn = (repairs: readonly Repair[]): number =>
  repairs[0]?.touched.reduce((sum, _, i) => sum + (repairs.some(({ touched }) => touched[i] === 1) ? 1 : 0), 0) ?? 0;

/** A check of one instrument against a known weight or length, and its children measured again. */
function instrumentActs(repairs: readonly Repair[]): Possible[] {
  return repairs.flatMap((repair, r): Possible[] => {
    const { instrument, team } = repair;
    if (instrument === undefined || team === null) return [];
    const { amounts, readingError, remeasureError } = instrument;
    const used = (draws: LogitDraws) => amounts.slice(0, draws.mean.length);
    const name = message(`consequence.instrument.${instrument.name}`);
    const again = 20;
    return [
      {
        id: `verify/${repair.id}`,
        label: message(`claims.act.verify.${instrument.name}`, { team }),
        effort: message("claims.effort.instruments", { count: 1 }),
        risk: (draws, limit) => riskWhenKnown(draws, limit, [r], { amounts: used(draws), error: readingError }),
      },
      {
        id: `remeasure/${repair.id}`,
        label: message("claims.act.remeasure", { team, count: again, instrument: name }),
        effort: message("claims.effort.children", { count: again }),
        risk: (draws, limit) =>
          riskWhenKnown(draws, limit, [r], { amounts: used(draws), error: remeasureError / Math.sqrt(again) }),
      },
    ];
  });
}

/** Acts that settle every repair of a kind at once. */
const together: readonly { readonly id: string; readonly isOf: (repair: Repair) => boolean }[] = [
  { id: "find-missing", isOf: ({ id }) => id === "absent/imputed" },
  { id: "birth-dates", isOf: ({ id }) => id === "ages/birth-dates" || id === "ages/heaped" },
  { id: "forms", isOf: ({ id }) => id === "records/repeats" || id === "records/positions" },
];

function otherActs(repairs: readonly Repair[]): Possible[] {
  const known = together.flatMap(({ id, isOf }): Possible[] => {
    const which = [...repairs.keys()].filter((r) => isOf(repairs[r] as Repair));
    if (which.length === 0) return [];
    const count = touchedIn(which.map((r) => repairs[r] as Repair));
    return [
      {
        id,
        label: message(`claims.act.${id}`),
        effort: message(count === 0 ? "claims.effort.some-children" : "claims.effort.children", { count }),
        risk: (draws, limit) => riskWhenKnown(draws, limit, which),
      },
    ];
  });
  const instruments = [...repairs.keys()].filter((r) => repairs[r]?.instrument !== undefined);
  if (instruments.length < 2) return known;
  return [
    ...known,
    {
      id: "all-instruments",
      label: message("claims.act.all-instruments"),
      effort: message("claims.effort.instruments", { count: instruments.length }),
      risk: (draws, limit) => riskWhenKnown(draws, limit, instruments),
    },
  ];
}

function clusterActs({ children, design }: World): Possible[] {
  const clusters = design.clusterCount;
  if (children.cluster === null || clusters < 2) return [];
  return [0.25, 0.5, 1].map((share) => {
    const more = Math.max(1, Math.round(share * clusters));
    return {
      id: `clusters/${more}`,
      label: message("claims.act.clusters", { count: more }),
      effort: message("claims.effort.children-more", { count: Math.round((more * children.count) / clusters) }),
      risk: (draws, limit) => riskWithClusters(draws, limit, clusters, more),
    };
  });
}

/**
 * What could be done about each claim that is left open, with the chance that naming the likelier side is right: before, and on
 * average after. Nobody knows beforehand what will be found, so that it is the mean over what the draws say it could be
 * (preposterior analysis: Raiffa and Schlaifer, Applied Statistical Decision Theory, 1961, from memory). Sorted by what is gained.
 */
export function settlingOf(
  world: World,
  runs: RepairRuns,
  answers: readonly Answer[],
  claims: readonly Claim[],
): Settling[] {
  const possible = [...instrumentActs(runs.repairs), ...otherActs(runs.repairs), ...clusterActs(world)];
  const draws = new Map(
    answers.map((answer) => {
      const h = world.headlines.findIndex(({ estimate }) => estimate.id === answer.estimate);
      return [answer.estimate, logitDraws(answer, runs, h)];
    }),
  );
  return claims.flatMap(({ estimate, limit, state, repaired }): Settling[] => {
    const own = draws.get(estimate) ?? null;
    const isOpen = state === "open-measuring" || state === "open-sample";
    if (!isOpen || own === null || repaired === null) return [];
    const at = logit(limit);
    const before = 1 - risk(repaired);
    const now = risk(chanceMoved(own, at, () => 0));
    const acts = possible.flatMap(({ id, label, effort, risk: after }): Act[] => {
      // Information never makes the expected risk larger; less than nothing gained is the draws' own error.
      const gained = now - after(own, at);
      return gained < leastGain ? [] : [{ id, label, effort, before, after: Math.min(1, before + gained) }];
    });
    return acts.length === 0 ? [] : [{ estimate, limit, acts: acts.sort((a, b) => b.after - a.after) }];
  });
}
