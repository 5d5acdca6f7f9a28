import { type DesignGap, designShown, hidesClusters } from "../../derive/design-gaps.js";
import { bookOf, expendable, type GroupBook } from "../../disclosure/book.js";
import type { GroupId } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { Answer, RepairResult } from "../../results/schema.js";
import { withholdBelow } from "../../results/withhold-below.js";
import { mixtureInterval, type ShareWithError } from "../../stats/chance-above.js";
import { confidenceLevel } from "../../stats/confidence.js";
import { plannedDesignEffect } from "../../stats/design/interval.js";
import type { DrawnShare, RepairRuns } from "../repairs/draw.js";
import type { Repair } from "../repairs/repair.js";
import type { Headline, World } from "../scenario.js";
import { wholeOf } from "../whole.js";
import { untouched } from "./untouched.js";

const finite = (value: number): number | null => (Number.isFinite(value) ? value : null);

/** What standard errors are multiplied by where the clusters are not known. */
const widening = ({ assumedDesignEffect }: Answer): number => Math.sqrt(assumedDesignEffect ?? 1);

/** The published estimate as a chance is read from it. */
export function publishedShare(answer: Answer): ShareWithError {
  const { value, standardError, degreesOfFreedom, n } = answer;
  return {
    estimate: value,
    standardError: (standardError ?? Number.NaN) * widening(answer),
    degreesOfFreedom: degreesOfFreedom ?? Number.NaN,
    n,
  };
}

/** Every draw of the findings put right; the published estimate alone where none bears on it. */
export function drawnShares(answer: Answer): ShareWithError[] {
  const { draws } = answer;
  if (draws === null) return [publishedShare(answer)];
  return draws.value.map((estimate, k) => ({
    estimate,
    standardError: (draws.standardError[k] ?? Number.NaN) * widening(answer),
    degreesOfFreedom: draws.degreesOfFreedom,
    n: draws.n,
  }));
}

/** The group that draws tell of, entered beside the published one. */
function groupOf(book: GroupBook, headline: Headline, repairs: readonly Repair[], note: string): GroupId {
  const id = headline.estimate.id;
  const beside = `${id} (${note})`;
  book.standsBeside(beside, headline.published.speaks.members);
  return book.group(beside, untouched(headline, repairs), note, expendable.scenario);
}

const differs = (draws: readonly DrawnShare[], { published }: Headline): boolean =>
  draws.some(({ estimate, n }) => Math.abs(estimate - published.value) > 1e-12 || n !== published.n);

function drawsOf(draws: readonly DrawnShare[], of: GroupId): Answer["draws"] {
  return {
    of,
    value: draws.map(({ estimate }) => estimate),
    standardError: draws.map(({ standardError }) => standardError),
    degreesOfFreedom: Math.min(...draws.map(({ degreesOfFreedom }) => degreesOfFreedom)),
    n: Math.min(...draws.map(({ n }) => n)),
  };
}

/** Gaps of the design that leave the figure itself in the air, whatever its interval. */
const noClaims: readonly DesignGap["id"][] = ["heavy-child", "weights-missing", "unlike-chances"];

function designOfAnswer({ children, settings }: World): Pick<Answer, "assumedDesignEffect" | "noClaim"> {
  const { gaps } = designShown(children, settings);
  const barring = gaps.find(({ id }) => noClaims.includes(id))?.id;
  return {
    ...(gaps.some(hidesClusters) ? { assumedDesignEffect: plannedDesignEffect } : {}),
    ...(barring === undefined ? {} : { noClaim: barring }),
  };
}

/** The main estimates with their draws. */
export function answersOf(world: World, runs: RepairRuns): Answer[] {
  const book = bookOf(world.children);
  const design = designOfAnswer(world);
  return world.headlines.map((headline, h): Answer => {
    const { published, estimate } = headline;
    const own = runs.joint.map((draw) => draw[h] as DrawnShare);
    const base = {
      estimate: estimate.id,
      of: wholeOf(world, headline),
      value: published.value,
      standardError: finite(Math.sqrt(published.variance)),
      degreesOfFreedom: finite(published.degreesOfFreedom),
      n: published.n,
      low: published.low,
      high: published.high,
      limits: (estimate.scheme?.classes ?? []).map(({ id, from }) => ({ class: id, from })),
      scheme: estimate.scheme?.id ?? null,
      ...design,
    };
    if (!differs(own, headline)) return { ...base, repaired: null, draws: null };
    const of = groupOf(book, headline, runs.repairs, "findings put right");
    return { ...base, repaired: mixtureInterval(own, confidenceLevel), draws: drawsOf(own, of) };
  });
}

function repairResult(world: World, runs: RepairRuns, repair: Repair, at: number): RepairResult {
  const book = bookOf(world.children);
  const alone = runs.alone[at] ?? [];
  const { id, label, checks, team, found, chance } = repair;
  return {
    id,
    label,
    checks: [...checks],
    team,
    ...(found === undefined ? {} : { found }),
    chance: chance ?? null,
    outcomes: world.headlines.flatMap((headline, h) => {
      const own = alone.map((draw) => draw[h] as DrawnShare);
      if (!differs(own, headline)) return [];
      const { published } = headline;
      const shift = own.reduce((sum, one) => sum + one.estimate - published.value, 0) / own.length;
      const error = Math.sqrt(published.variance);
      return [
        {
          estimate: headline.estimate.id,
          of: groupOf(book, headline, [repair], id),
          shift,
          shiftInErrors: error > 1e-12 ? shift / error : null,
        },
      ];
    }),
  };
}

/** What each repair does alone; those that few children are touched by are named without their figures. */
export function repairResults(world: World, runs: RepairRuns): RepairResult[] {
  const told = runs.repairs.map((repair, at) => repairResult(world, runs, repair, at));
  const kept = runs.keptBack.map(({ id, label, checks, team }): RepairResult => {
    const reason = message("repair.kept-back", { limit: withholdBelow });
    return { id, label, checks: [...checks], team, chance: null, reason, outcomes: [] };
  });
  return [...told, ...kept];
}
