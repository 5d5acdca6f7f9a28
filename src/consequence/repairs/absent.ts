import type { IndexId } from "../../derive/children.js";
import { usable } from "../../derive/exclusions.js";
import { outcome, scoreCriterion } from "../../derive/outcome.js";
import { message } from "../../results/message.js";
import { withholdBelow } from "../../results/withhold-below.js";
import { estimateProportion } from "../../stats/design/proportion.js";
import { type LogisticFit, logisticChance, logisticFit } from "../../stats/logistic.js";
import type { RandomStream } from "../../stats/random.js";
import { choleskyOf, dot } from "../../stats/small-matrix.js";
import { countOf } from "../changed.js";
import { notJudged } from "../missing.js";
import type { Headline, World } from "../scenario.js";
import type { RepairFile } from "./repair.js";

/** Children without anything measured: cases between as often and this many times as often as the measured ones. Judgement. */
const mostTimesAsOften = 2;
/** A rule for guessing is made from at least so many measured children, of whom so many are cases. Judgement. */
const fewest = { children: 100, cases: 10 } as const;
/** Coefficients are less certain than in a simple random sample: design effect assumed of them. */
const designEffect = 1.5;

const indices: readonly IndexId[] = ["weight-for-height", "height-for-age", "weight-for-age", "arm-for-age"];

/** Children without a measure who have the same other measures, with the rule made from the measured children. */
interface Pattern {
  readonly rows: readonly number[];
  readonly x: readonly (readonly number[])[];
  readonly fit: LogisticFit;
  readonly factor: readonly (readonly number[])[];
}

interface AbsentOf {
  readonly absent: Uint8Array;
  readonly patterns: readonly Pattern[];
  /** Share of cases among the measured. */
  readonly measured: number;
}

/** Age and the indices of one child; null where one of them is missing. */
function predictorsOf(world: World, use: readonly IndexId[], i: number): number[] | null {
  const { children } = world;
  const x = [
    1,
    (children.ageMonths[i] ?? Number.NaN) / 60,
    ...use.map((id) => children.indices[id].z[i] ?? Number.NaN),
  ];
  return x.some((value) => Number.isNaN(value)) ? null : x;
}

function absentOf(world: World, { estimate }: Headline): AbsentOf {
  const { children, design, rule } = world;
  const absent = notJudged(children, estimate);
  const { isCase, inDomain } = outcome(children, estimate.outcome, rule);
  const measured = estimateProportion(design, isCase, inDomain).estimate;
  const own = scoreCriterion(estimate.outcome)?.index;
  const others = indices.filter((index) => index !== own);
  const kept = others.map((index) => usable(children, index, rule));
  const groups = new Map<string, number[]>();
  for (let i = 0; i < children.count; i++) {
    if (absent[i] !== 1 || Number.isNaN(children.ageMonths[i])) continue;
    const key = kept.map((one) => one[i]).join("");
    if (key.includes("1")) groups.set(key, [...(groups.get(key) ?? []), i]);
  }
  const patterns = [...groups]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .flatMap(([key, rows]): Pattern[] => {
      const use = others.filter((_, k) => key[k] === "1");
      const from = [...inDomain.keys()].filter((i) => inDomain[i] === 1);
      const usableRows = from.flatMap((i) => {
        const x = predictorsOf(world, use, i);
        return x === null ? [] : [{ i, x }];
      });
      const cases = usableRows.reduce((sum, { i }) => sum + (isCase[i] as number), 0);
      if (usableRows.length < fewest.children || cases < fewest.cases) return [];
      const fit = logisticFit(
        usableRows.map(({ x }) => x),
        usableRows.map(({ i }) => isCase[i] as number),
        usableRows.map(({ i }) => design.weight[i] as number),
      );
      if (fit === null) return [];
      const x = rows.map((i) => predictorsOf(world, use, i) ?? []);
      const covariance = fit.covariance.map((row) => row.map((value) => value * designEffect));
      return [{ rows, x, fit, factor: choleskyOf(covariance) }];
    });
  return { absent, patterns, measured };
}

/** The chance of each absent child to be a case, in one draw. */
function chancesOf({ absent, patterns, measured }: AbsentOf, times: number, random: RandomStream): Float64Array {
  const chances = Float64Array.from(absent, (one) => (one === 1 ? Math.min(1, times * measured) : Number.NaN));
  for (const { rows, x, fit, factor } of patterns) {
    const deviates = fit.coefficients.map(() => random.normal());
    const coefficients = fit.coefficients.map((one, k) => one + dot(factor[k] ?? [], deviates));
    rows.forEach((i, k) => {
      chances[i] = logisticChance(coefficients, x[k] ?? []);
    });
  }
  return chances;
}

/**
 * Children of the file without a measurement that an estimate needs. Where something else of the child was measured, it is a
 * case with the chance that children measured in both have with such an age, arm circumference or other index (logistic
 * regression, its coefficients drawn anew each time); where nothing was, as often as the measured ones or up to twice as
 * often, one factor a draw.
 */
export const absentChildren: RepairFile = (world) => {
  const found = new Map(world.headlines.map((headline) => [headline.estimate.id, absentOf(world, headline)]));
  const touched = new Uint8Array(world.children.count);
  for (const { absent } of found.values())
    absent.forEach((one, i) => {
      if (one === 1) touched[i] = 1;
    });
  const count = countOf(touched);
  if (count === 0) return [];
  // What was measured of a few children would be told by what becomes of the estimate: they then count by the range alone.
  const few = count < withholdBelow;
  return [
    {
      id: "absent/imputed",
      label: message("repair.absent"),
      checks: ["missing-values"],
      team: null,
      // By the range alone nothing of theirs is told: the figure tells of the measured children.
      touched: few ? new Uint8Array(touched.length) : touched,
      apply: (drawn, _, random) => {
        const times = 1 + random.uniform() * (mostTimesAsOften - 1);
        const chances = new Map(
          [...found].map(([id, own]) => [id, chancesOf(few ? { ...own, patterns: [] } : own, times, random)]),
        );
        drawn.absent = ({ estimate }) => chances.get(estimate.id) ?? null;
      },
    },
  ];
};
