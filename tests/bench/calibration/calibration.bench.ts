import { type DrawnShare, runsOf } from "../../../src/consequence/repairs/draw.js";
import { clopperPearson } from "../../../src/stats/binomial.js";
import { chanceAtOrAbove, meanChanceAtOrAbove, mixtureInterval } from "../../../src/stats/chance-above.js";
import { type BenchSurvey, benchSurvey, type Condition, type Truth, truthOf } from "./surveys.js";

const estimatesLookedAt = ["wasting", "stunting"] as const;
const logit = (p: number): number => Math.log(p / (1 - p));
const near = 0.9;
const settled = 0.95;

/** One limit of one survey, with the truth. */
interface Judged {
  readonly q0: number;
  readonly q1: number;
  readonly isAbove: boolean;
}

export interface Outcome {
  /** Names of the faults planted. */
  readonly faults: readonly string[];
  readonly limits: readonly Judged[];
  readonly estimates: readonly {
    readonly id: string;
    readonly truth: number;
    readonly raw: number;
    readonly repaired: number;
    readonly standardError: number;
    readonly rawHolds: boolean;
    readonly repairedHolds: boolean;
    readonly width: number;
    readonly rawWidth: number;
  }[];
  readonly byRepair: ReadonlyMap<string, number>;
}

function judge(survey: BenchSurvey, truth: Truth): Outcome {
  const { world } = survey;
  const runs = runsOf(world);
  const limits: Judged[] = [];
  const estimates: Outcome["estimates"][number][] = [];
  const byRepair = new Map<string, number>();
  world.headlines.forEach((headline, h) => {
    const id = estimatesLookedAt.find((one) => one === headline.estimate.id);
    if (id === undefined) return;
    const { value, variance, degreesOfFreedom, n, low, high } = headline.published;
    const published: DrawnShare = { estimate: value, standardError: Math.sqrt(variance), degreesOfFreedom, n };
    const draws = runs.joint.length === 0 ? [published] : runs.joint.map((draw) => draw[h] as DrawnShare);
    const p = truth[id](survey.shift);
    for (const { from } of headline.estimate.scheme?.classes ?? []) {
      if (from <= 0 || Math.abs(logit(from) - logit(value)) > near) continue;
      limits.push({
        q0: chanceAtOrAbove(published, from),
        q1: meanChanceAtOrAbove(draws, from),
        isAbove: p >= from,
      });
    }
    const repaired = draws.reduce((sum, one) => sum + one.estimate, 0) / draws.length;
    const mixture = mixtureInterval(draws, 0.95) ?? { low: 0, high: 1 };
    estimates.push({
      id,
      truth: p,
      raw: value,
      repaired,
      standardError: published.standardError,
      rawHolds: (low ?? 0) <= p && p <= (high ?? 1),
      repairedHolds: mixture.low <= p && p <= mixture.high,
      width: mixture.high - mixture.low,
      rawWidth: (high ?? 1) - (low ?? 0),
    });
    runs.repairs.forEach((repair, r) => {
      const own = runs.alone[r] ?? [];
      const shift = own.reduce((sum, draw) => sum + (draw[h] as DrawnShare).estimate - value, 0) / own.length;
      const kind = repair.id.startsWith("instrument/") ? "instrument" : repair.id;
      const key = `${kind} ${id}`;
      byRepair.set(key, (byRepair.get(key) ?? 0) + shift / published.standardError);
    });
  });
  return { faults: survey.faults.map(({ name }) => name), limits, estimates, byRepair };
}

const percent = (share: number): string => (100 * share).toFixed(1);
const mean = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;

function shareWith(cases: number, n: number): string {
  const { low, high } = clopperPearson(cases, n);
  return `${cases} of ${n}, ${percent(cases / n)} % (${percent(low)} to ${percent(high)})`;
}

export interface CalibrationRow {
  readonly name: string;
  readonly value: string;
}

/** Deciles of q with the share truly above. */
function deciles(limits: readonly Judged[], q: (one: Judged) => number): string {
  return Array.from({ length: 10 }, (_, k) => {
    const own = limits.filter((one) => Math.min(9, Math.floor(q(one) * 10)) === k);
    const above = own.filter(({ isAbove }) => isAbove).length;
    return own.length === 0 ? "-" : `${percent(mean(own.map(q)))}/${percent(above / own.length)}(${own.length})`;
  }).join(" ");
}

export function rowsOf(outcomes: readonly Outcome[]): CalibrationRow[] {
  const limits = outcomes.flatMap((one) => one.limits);
  const isSettled = (q: number): boolean => q >= settled || q <= 1 - settled;
  const side = (q: number): boolean => q >= 0.5;
  const said = limits.filter(({ q0, q1 }) => isSettled(q0) && isSettled(q1) && side(q0) === side(q1));
  const right = said.filter(({ q1, isAbove }) => side(q1) === isAbove);
  const byMeasuring = limits.filter((one) => isSettled(one.q0) && !said.includes(one));
  const chanceRight = byMeasuring.filter(({ q0, isAbove }) => side(q0) === isAbove);
  const brier = (q: (one: Judged) => number): number => mean(limits.map((one) => (q(one) - Number(one.isAbove)) ** 2));
  const all = outcomes.flatMap((one) => one.estimates);
  const rms = (error: (one: (typeof all)[number]) => number, id: string): number =>
    Math.sqrt(mean(all.filter((one) => one.id === id).map((one) => error(one) ** 2)));
  const repairs = [...new Set(outcomes.flatMap(({ byRepair }) => [...byRepair.keys()]))].sort();
  return [
    { name: "limits near an estimate", value: String(limits.length) },
    { name: "settled ('can be said')", value: shareWith(said.length, limits.length) },
    { name: "of those, true", value: shareWith(right.length, said.length) },
    {
      name: "settled by chance alone, left open by the measuring; chance right in",
      value: shareWith(chanceRight.length, Math.max(1, byMeasuring.length)),
    },
    {
      name: "Brier score of q0 / q1",
      value: `${brier(({ q0 }) => q0).toFixed(4)} / ${brier(({ q1 }) => q1).toFixed(4)}`,
    },
    ...estimatesLookedAt.map((id) => ({
      name: `root mean square error of ${id}, raw / repaired (points)`,
      value: `${percent(rms((one) => one.raw - one.truth, id))}${""} / ${percent(rms((one) => one.repaired - one.truth, id))}`,
    })),
    ...estimatesLookedAt.map((id) => ({
      name: `mean error of ${id} as published, in SE`,
      value: mean(all.filter((one) => one.id === id).map((one) => (one.raw - one.truth) / one.standardError)).toFixed(
        3,
      ),
    })),
    ...estimatesLookedAt.map((id) => ({
      name: `mean shift of ${id} by the repairs, in SE`,
      value: mean(
        all.filter((one) => one.id === id).map((one) => (one.repaired - one.raw) / one.standardError),
      ).toFixed(3),
    })),
    {
      name: "interval holds the truth, raw / repaired",
      value: `${shareWith(all.filter((one) => one.rawHolds).length, all.length)} / ${shareWith(all.filter((one) => one.repairedHolds).length, all.length)}`,
    },
    {
      name: "mean width, raw / repaired (points)",
      value: `${percent(mean(all.map((one) => one.rawWidth)))} / ${percent(mean(all.map((one) => one.width)))}`,
    },
    { name: "deciles of q0: mean/true (n)", value: deciles(limits, ({ q0 }) => q0) },
    { name: "deciles of q1: mean/true (n)", value: deciles(limits, ({ q1 }) => q1) },
    ...repairs.map((key) => ({
      name: `  mean shift, ${key}`,
      value: (outcomes.reduce((sum, { byRepair }) => sum + (byRepair.get(key) ?? 0), 0) / outcomes.length).toFixed(3),
    })),
  ];
}

/** Of the surveys with each fault: root mean square error before and after, and 'can be said' that was wrong. */
function byFault(outcomes: readonly Outcome[]): CalibrationRow[] {
  const names = [...new Set(outcomes.flatMap((one) => one.faults))].sort();
  return names.map((name) => {
    const own = outcomes.filter((one) => one.faults.includes(name));
    const errors = estimatesLookedAt.map((id) => {
      const all = own.flatMap((one) => one.estimates).filter((one) => one.id === id);
      const rms = (error: (one: (typeof all)[number]) => number) =>
        percent(Math.sqrt(mean(all.map((one) => error(one) ** 2))));
      return `${id} ${rms((one) => one.raw - one.truth)} / ${rms((one) => one.repaired - one.truth)}`;
    });
    const wrong = own
      .flatMap((one) => one.limits)
      .filter(({ q0, q1, isAbove }) => {
        const both = [q0, q1].every((q) => q >= settled) || [q0, q1].every((q) => q <= 1 - settled);
        return both && q1 >= 0.5 !== isAbove;
      });
    return { name: `  ${name} (${own.length})`, value: `${errors.join(", ")}; said wrongly ${wrong.length}` };
  });
}

/** Every survey judged, one seed after the other; `seen` is told the outcomes so far after each hundred. */
export async function calibrate(
  count: number,
  from: number,
  condition: Condition,
  seen: (outcomes: readonly Outcome[]) => void = () => {},
): Promise<Outcome[]> {
  const truth = await truthOf();
  const outcomes: Outcome[] = [];
  for (let seed = from; seed < from + count; seed++) {
    outcomes.push(judge(await benchSurvey(seed, condition), truth));
    if (outcomes.length % 100 === 0) seen(outcomes);
  }
  return outcomes;
}

/** A condition's table: what was found of so many surveys from one seed on. */
export function tableOf(outcomes: readonly Outcome[], from: number, condition: Condition): string {
  const head = `${condition}: ${outcomes.length} surveys, seeds ${from} to ${from + outcomes.length - 1}`;
  const rows = [...rowsOf(outcomes), ...byFault(outcomes)];
  return [head, ...rows.map(({ name, value }) => `${name.padEnd(70)} ${value}`)].join("\n");
}

/** The first seed of each condition on the page; others were used while the repairs were made. */
export const seeds: Readonly<Record<Condition, number>> = { clean: 10_001, faulty: 20_001 };

/** The page in docs/, from the tables of both conditions. */
export function calibrationPage(clean: string, faulty: string): string {
  return `# What the claims came to on surveys whose truth is known

Written by \`npm run calibrate\`: do not edit. Invented surveys of 30 to 60 clusters and 360 to 1,440 children, six teams, wasting and
stunting anywhere around their limits. The truth is the prevalence that careful teams would find in a sample without end. Limits are the
published ones within 0.9 of the estimate on the logit scale. In brackets: exact 95 % intervals of a share, as if limits of one survey
were independent. A decile of q is written as mean q / share truly above the limit (number of limits), in per cent. By fault: root mean
square error in points, raw / with the findings put right, over all surveys that have that fault among up to three.

Asked of it: of what can be said 98 % true in clean and 97 % in faulty surveys, with no fewer limits settled than 68 % and 63 %; a Brier
score of q1 of 0.085 or less on faulty surveys; an error with the findings put right clearly below the raw one; no repair that moves
an estimate of clean surveys by more than 0.2 standard errors on average.

\`\`\`
${clean}
\`\`\`

\`\`\`
${faulty}
\`\`\`
`;
}
