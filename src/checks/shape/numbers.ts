import type { Children, IndexId } from "../../derive/children.js";
import type { GroupId } from "../../results/group.js";
import type { Message } from "../../results/schema.js";
import { bootstrapShape, type ShapeLimits } from "../../stats/cluster-bootstrap.js";
import { benjaminiHochberg } from "../../stats/false-discovery.js";
import { type Moments, momentsOf } from "../../stats/moments.js";
import { andersonDarling, dagostinoPearson } from "../../stats/normality.js";
import { seedFor } from "../../stats/random.js";
import type { CheckInput } from "../check.js";
import { groupsOf } from "../shared/groups.js";
import { countKnown, keptScores, knownIn } from "../shared/kept-scores.js";
import { chanceLevel } from "../shared/reading.js";
import { partOf } from "../shared/told.js";
import { clustersTooFew, fullest, tooLittle } from "../shared/too-little.js";
import { unweightedDesign } from "../shared/unweighted-design.js";

interface Bin {
  readonly from: number;
  readonly to: number;
  readonly count: number;
}

type ShapeReading = "expected" | "explain" | "doubt";

/** The shape of one index's z-scores after the fixed limits. */
export interface IndexShape {
  readonly of: GroupId;
  readonly index: IndexId;
  readonly moments: Moments;
  readonly limits: ShapeLimits;
  readonly andersonDarling: { readonly adjusted: number; readonly probability: number };
  readonly bins: readonly Bin[];
  readonly reading: ShapeReading;
}

/** Weight-for-height of one team. */
export interface TeamShape {
  readonly of: GroupId | null;
  readonly label: string;
  readonly n: number;
  /** Null where the team has too few children. */
  readonly moments: Moments | null;
  readonly adjustedProbability: number;
  readonly bins: readonly Bin[];
  readonly reading: ShapeReading | "unknown";
}

/** Fewer children than this say little about a shape: a fourth moment needs many. Judgement. */
export const fewestForShape = 50;
/** Guide values of WHO and UNICEF 2019, from memory: skewness within +-0.5, Pearson kurtosis (normal 3) of 2 to 4. */
export const skewnessGuide = 0.5;
export const kurtosisGuide = { low: 2, high: 4 } as const;
/** Twice the skewness guide, and tails or gaps no measured population is known to show. Judgement, no source. */
const skewnessDoubt = 1;
const kurtosisDoubt = { low: 1.5, high: 6 } as const;
/** 400 repeats are enough for limits read to one decimal; fewer where very many clusters make each dear, and limits narrow. */
const repeatsFor = (clusters: number): number => Math.round(Math.max(100, Math.min(400, 400_000 / clusters)));

/** Own rule: the outermost bins hold at least so many children, so that no bin's edge tells one child's z-score. */
const fewestInTail = 5;

/** Bins without thin tails: what lies beyond is counted in the outermost that holds enough. */
function tailsPooled(bins: readonly Bin[]): Bin[] {
  const pooled = [...bins];
  const join = (at: number, beside: number): void => {
    const [outer, inner] = [pooled[at] as Bin, pooled[beside] as Bin];
    pooled[beside] = { ...inner, count: inner.count + outer.count };
    pooled.splice(at, 1);
  };
  while (pooled.length > 1 && (pooled[0] as Bin).count < fewestInTail) join(0, 1);
  while (pooled.length > 1 && (pooled.at(-1) as Bin).count < fewestInTail) join(pooled.length - 1, pooled.length - 2);
  return pooled;
}

/** Half-z bins, the width that shows a heap or a gap at 900 children without noise: judgement. */
function binsOf(values: Float64Array): Bin[] {
  const counts = new Map<number, number>();
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    const bin = Math.floor(value * 2);
    counts.set(bin, (counts.get(bin) ?? 0) + 1);
  }
  if (counts.size === 0) return [];
  const first = Math.min(...counts.keys());
  const last = Math.max(...counts.keys());
  return tailsPooled(
    Array.from({ length: last - first + 1 }, (_, i) => ({
      from: (first + i) / 2,
      to: (first + i + 1) / 2,
      count: counts.get(first + i) ?? 0,
    })),
  );
}

/** Effect size first: the whole interval must lie beyond the guide values. Kurtosis here is Pearson's, excess + 3. */
function judgeShape(limits: ShapeLimits): ShapeReading {
  const { skewness } = limits;
  const low = limits.excessKurtosis.low + 3;
  const high = limits.excessKurtosis.high + 3;
  const beyond = (skew: number, kurtosis: { low: number; high: number }) =>
    skewness.low > skew || skewness.high < -skew || low > kurtosis.high || high < kurtosis.low;
  if (beyond(skewnessDoubt, kurtosisDoubt)) return "doubt";
  return beyond(skewnessGuide, kurtosisGuide) ? "explain" : "expected";
}

/** In the order of interest. */
const indices: readonly IndexId[] = ["weight-for-height", "height-for-age", "weight-for-age", "arm-for-age"];

/** Why no index could be read, told of the index with the most z-scores. */
export function whyNoShape(children: Children): Message {
  const scores = fullest(indices.map((index) => keptScores(children, index)));
  return tooLittle(scores, fewestForShape) ?? clustersTooFew(scores, unweightedDesign(children));
}

/** Every index with enough children, in the order of interest. */
export function indexShapes({ children, book, seed }: Omit<CheckInput, "settings">): IndexShape[] {
  const { cluster, clusterCount } = unweightedDesign(children);
  return indices.flatMap((index) => {
    const values = keptScores(children, index);
    const moments = momentsOf(values);
    if (tooLittle(values, fewestForShape) !== null || Number.isNaN(moments.excessKurtosis)) return [];
    const limits = bootstrapShape(values, cluster, clusterCount, repeatsFor(clusterCount), seedFor(seed, index));
    if (Number.isNaN(limits.skewness.low) || Number.isNaN(limits.excessKurtosis.low)) return [];
    const test = andersonDarling(values);
    return [
      {
        of: book.subject(`z/${index}`, knownIn(values), { aboutHealth: true }).whole,
        index,
        moments,
        limits,
        andersonDarling: { adjusted: test.adjusted, probability: test.probability },
        bins: binsOf(values),
        reading: judgeShape(limits),
      },
    ];
  });
}

/** One team's scores with their bootstrap limits, children drawn one by one: a team has too few clusters to draw from. */
function teamShape(values: Float64Array, seed: number) {
  const moments = momentsOf(values);
  if (tooLittle(values, fewestForShape) !== null) return { moments: null, limits: null, probability: Number.NaN };
  const each = Int32Array.from(values, (_, child) => child);
  const limits = bootstrapShape(values, each, values.length, repeatsFor(values.length), seed);
  return { moments, limits, probability: dagostinoPearson(values).probability };
}

/** A team that nothing may be told of. */
const untold = { moments: null, limits: null, probability: Number.NaN };

/**
 * Weight-for-height by team. The D'Agostino-Pearson test, with false discoveries controlled, says what chance alone gives at
 * the team's n; only a shape whose whole interval lies beyond the guide values is read, so that one far-off child does not
 * make a team unusual.
 */
export function teamShapes({ children, book, seed }: Omit<CheckInput, "settings">): TeamShape[] {
  const values = keptScores(children, "weight-for-height");
  const { team: column } = children;
  const subject = book.subject("z/weight-for-height", knownIn(values), { aboutHealth: true });
  const teams = groupsOf(column).map((group, place) => {
    const own = Float64Array.from(group.members, (child) => values[child] as number);
    const of = column === null ? null : partOf(subject, "team", column, group);
    const found = of === null ? untold : teamShape(own, seedFor(seed, `team/${place}`));
    return { label: group.label, of, n: countKnown(own), bins: binsOf(own), ...found };
  });
  const adjusted = benjaminiHochberg(teams.map((team) => team.probability));
  return teams.map(({ label, of, n, moments, limits, bins }, place) => {
    const adjustedProbability = adjusted[place] ?? Number.NaN;
    if (limits === null) return { label, of, n, moments, bins, adjustedProbability, reading: "unknown" };
    const size = judgeShape(limits);
    const doubt = size === "doubt" && adjustedProbability < chanceLevel.doubt;
    const explain = size !== "expected" && adjustedProbability < chanceLevel.explain;
    return {
      label,
      of,
      n,
      moments,
      bins,
      adjustedProbability,
      reading: doubt ? "doubt" : explain ? "explain" : "expected",
    };
  });
}
