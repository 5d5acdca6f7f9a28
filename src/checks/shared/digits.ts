import type { CodedColumn, MeasureColumn } from "../../columns/survey.js";
import type { Children } from "../../derive/children.js";
import type { Subject } from "../../disclosure/book.js";
import type { GroupId } from "../../results/group.js";

import { isConcern } from "../../results/reading.js";
import type { Interval, Reading } from "../../results/schema.js";
import { digitNoise } from "../../stats/digit-noise.js";
import { digitPreference } from "../../stats/digit-preference.js";
import { momentsOf } from "../../stats/moments.js";
import { normalQuantile } from "../../stats/normal.js";
import type { CheckInput } from "../check.js";
import { clusteringOf, measurementDesign } from "./clustering.js";
import { countDigits, type DigitScale, digitOf, digitScale, digitsAreEven, tolerance } from "./digit-scale.js";
import { groupsOf } from "./groups.js";
import { adjustTogether } from "./multiplicity.js";
import { chanceLevel, fewestChildren, mostSerious } from "./reading.js";
import { shareInterval } from "./shares.js";
import { partOf } from "./told.js";

/** What differs between the three measures whose last digits are looked at. */
export interface DigitMeasure {
  readonly name: "weight" | "height" | "arm";
  readonly unit: "kilogram" | "centimetre" | "millimetre";
  /** The step a survey is expected to read to, in the unit. */
  readonly resolution: number;
  /** About one z-score in the unit, to turn a rounding error into z. */
  readonly oneZ: number;
}

/** A share with its interval and what chance alone gives. */
interface DigitShare {
  readonly value: number;
  readonly interval: Interval;
  readonly expected: number;
  readonly low: number;
  readonly high: number;
}

/** The last digits of one set of readings. */
export interface DigitSeries {
  readonly n: number;
  readonly shares: readonly number[];
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly probability: number;
  readonly score: number;
  readonly scoreChance: { readonly mean: number; readonly upper95: number };
  readonly dissimilarity: number;
  readonly dissimilarityChance: { readonly mean: number; readonly upper95: number };
  readonly zero: DigitShare;
  /** Null where 5 is not one of ten attainable digits. */
  readonly zeroOrFive: DigitShare | null;
  /** Standard deviation that rounding adds if the readings in excess on 0 and 5 were rounded to them, in the unit. */
  readonly addedSpread: number;
}

export interface TeamDigits {
  readonly label: string;
  readonly of: GroupId | null;
  readonly n: number;
  /** Null where the team has too few readings. */
  readonly series: DigitSeries | null;
  readonly adjustedProbability: number;
  readonly reading: Reading;
}

export interface DigitNumbers {
  readonly of: GroupId;
  readonly measure: DigitMeasure;
  /** The step the column is written in. */
  readonly step: number;
  /** What the digits looked at stand for: the value of one unit of the digit (0.1 for tenths, 1 for whole units). */
  readonly place: number;
  /** Attainable digits, in order; empty where the digits cannot be read against chance. */
  readonly digits: readonly string[];
  /** Why the digits cannot be read against chance, or null. */
  readonly untestable: "one-digit" | "narrow" | null;
  /** Standard deviation that a column's coarse step adds by itself, in the unit; 0 where the step is fine enough. */
  readonly stepSpread: number;
  readonly n: number;
  readonly overall: DigitSeries | null;
  /** Of the survey's digits, after control over the survey and its teams. */
  readonly adjustedProbability: number;
  /** Of the survey's digits alone. */
  readonly overallReading: Reading;
  readonly teams: readonly TeamDigits[];
}

type ReadDigits = Pick<DigitNumbers, "adjustedProbability" | "overallReading" | "teams">;

/**
 * Practical size: the share of readings that would have to change their last digit, beyond what chance alone gives,
 * before the survey's digits are worth a question. One in twenty. Judgement, no source: no published pass mark exists.
 */
const explainDissimilarity = 0.05;
/** More than half the readings would need another digit: the marks of the instrument were mostly not read. Judgement. */
const doubtDissimilarity = 0.5;
/** Rounding that adds a standard deviation of 0.2 z raises a prevalence of 2.3 % at -2 by a tenth of itself: computed, Phi(-2 / sqrt(1.04)). */
const doubtAddedZ = 0.2;
/** A coarse step that adds 0.05 z or more is worth saying: computed, as above. Judgement. */
const explainAddedZ = 0.05;

/** Limits that the share of one digit keeps to 95 times in 100 by chance alone. */
export function chanceBand(expected: number, n: number): { readonly low: number; readonly high: number } {
  const half = normalQuantile(0.975) * Math.sqrt((expected * (1 - expected)) / n);
  return { low: Math.max(0, expected - half), high: Math.min(1, expected + half) };
}

function digitShare(cases: number, n: number, expected: number, designEffect: number): DigitShare {
  return {
    value: cases / n,
    interval: shareInterval(cases, n, designEffect),
    expected,
    ...chanceBand(expected, n),
  };
}

/** Design effects of the shares on 0 and on 0 or 5: readings of one team or cluster can be alike. */
interface DigitEffects {
  readonly zero: number;
  readonly zeroOrFive: number;
}

function designEffects(children: Children, values: Float64Array, scale: DigitScale): DigitEffects {
  const design = measurementDesign(children);
  const inDomain = Uint8Array.from(values, (value) => (value >= 0 ? 1 : 0));
  const effect = (isCase: (digit: number) => boolean) => {
    const cases = Uint8Array.from(values, (value) => (value >= 0 && isCase(digitOf(value, scale)) ? 1 : 0));
    return clusteringOf(design, cases, inDomain).designEffect;
  };
  return { zero: effect((digit) => digit === 0), zeroOrFive: effect((digit) => digit === 0 || digit === 5) };
}

/** Digit statistics of one set of counts. */
function digitSeries(
  counts: Float64Array,
  scale: DigitScale,
  effects: DigitEffects = { zero: 1, zeroOrFive: 1 },
): DigitSeries {
  const preference = digitPreference(counts);
  const noise = digitNoise(preference.n, scale.count);
  const n = preference.n;
  const zero = counts[0] ?? 0;
  const five = scale.count === 10 ? (counts[5] ?? 0) : 0;
  const expected = 1 / scale.count;
  const excessZero = Math.max(0, (zero / n - expected) / (1 - expected));
  const excessFive = scale.count === 10 ? Math.max(0, (five / n - expected) / (1 - expected)) : 0;
  const whole = 10 * scale.place;
  return {
    n,
    shares: preference.share,
    chiSquare: preference.chiSquare,
    degreesOfFreedom: preference.degreesOfFreedom,
    probability: preference.probability,
    score: preference.score,
    scoreChance: noise.score,
    dissimilarity: preference.dissimilarity,
    dissimilarityChance: noise.dissimilarity,
    zero: digitShare(zero, n, expected, effects.zero),
    zeroOrFive: scale.count === 10 ? digitShare(zero + five, n, 2 * expected, effects.zeroOrFive) : null,
    // Rounding to a unit u adds the variance u^2 / 12 of a uniform distribution: computed.
    addedSpread: Math.sqrt((excessZero * whole ** 2 + excessFive * (whole / 2) ** 2) / 12),
  };
}

/** Reading of one series, given the probability after control over its family. */
function judgeSeries(series: DigitSeries, probability: number, measure: DigitMeasure): Reading {
  const excess = series.dissimilarity - series.dissimilarityChance.mean;
  const large = series.dissimilarity >= doubtDissimilarity || series.addedSpread / measure.oneZ >= doubtAddedZ;
  if (probability < chanceLevel.doubt && large) return "doubt";
  if (probability < chanceLevel.explain && excess >= explainDissimilarity) return "explain";
  return "expected";
}

interface TeamCounts {
  readonly label: string;
  readonly of: GroupId | null;
  readonly n: number;
  readonly series: DigitSeries | null;
}

function countTeams(values: Float64Array, team: CodedColumn | null, scale: DigitScale, subject: Subject): TeamCounts[] {
  if (team === null) return [];
  return groupsOf(team).map((own) => {
    const counts = countDigits(values, own.members, scale);
    const n = counts.reduce((sum, count) => sum + count, 0);
    const of = partOf(subject, "team", team, own);
    return { label: own.label, of, n, series: of === null ? null : digitSeries(counts, scale) };
  });
}

/** The survey's digits and its teams' as one family of tests. */
function readDigits(overall: DigitSeries, teams: readonly TeamCounts[], measure: DigitMeasure): ReadDigits {
  const probabilities = teams.map((team) => team.series?.probability ?? Number.NaN);
  const adjusted = adjustTogether([overall.probability], [probabilities]);
  const adjustedProbability = adjusted.overall[0] ?? Number.NaN;
  return {
    adjustedProbability,
    overallReading: judgeSeries(overall, adjustedProbability, measure),
    teams: teams.map((team, i) => {
      const own = adjusted.families[0]?.[i] ?? Number.NaN;
      const reading = team.series === null ? "unknown" : judgeSeries(team.series, own, measure);
      return { ...team, adjustedProbability: own, reading };
    }),
  };
}

/** All numbers of a digit check, or why there are none: too few readings, or all of them the same. */
export function digitNumbers(
  { children, book }: Pick<CheckInput, "children" | "book">,
  column: MeasureColumn,
  measure: DigitMeasure,
): DigitNumbers | "few" | "constant" {
  const moments = momentsOf(column.values);
  if (moments.n < fewestChildren) return "few";
  if (!(moments.standardDeviation > 0)) return "constant";
  const scale = digitScale(column.step, measure.resolution);
  const even = scale !== null && digitsAreEven(moments.standardDeviation, 10 * scale.place);
  const coarse = column.step > measure.resolution * (1 + tolerance);
  const subject = book.subject(
    `digits/${measure.name}`,
    Uint8Array.from(column.values, (value) => (Number.isNaN(value) ? 0 : 1)),
  );
  const common = {
    of: subject.whole,
    measure,
    step: column.step,
    place: scale?.place ?? column.step,
    stepSpread: coarse ? column.step / Math.sqrt(12) : 0,
    n: moments.n,
  };
  if (scale === null || !even) {
    const untestable = scale === null ? "one-digit" : "narrow";
    const none = { adjustedProbability: Number.NaN, overallReading: "unknown" as const, teams: [] };
    return { ...common, digits: [], untestable, overall: null, ...none };
  }
  const everyone = Int32Array.from({ length: children.count }, (_, child) => child);
  const overall = digitSeries(
    countDigits(column.values, everyone, scale),
    scale,
    designEffects(children, column.values, scale),
  );
  const teams = countTeams(column.values, children.team, scale, subject);
  return { ...common, digits: scale.labels, untestable: null, overall, ...readDigits(overall, teams, measure) };
}

/** Reading of the step itself: what writing a column so coarsely adds to its spread. */
export function judgeStep(numbers: DigitNumbers): Reading {
  const tenfold = numbers.step >= 10 * numbers.measure.resolution * (1 - tolerance);
  const addedZ = numbers.stepSpread / numbers.measure.oneZ;
  if (tenfold || addedZ >= doubtAddedZ) return "doubt";
  return addedZ >= explainAddedZ ? "explain" : "expected";
}

/**
 * The most serious of the step, the survey's digits and its teams'. A team in doubt makes the survey need explaining and no
 * more: what rounding by one team does to the survey's estimates shows in the survey's own digits.
 */
export function judgeDigits(numbers: DigitNumbers): Reading {
  const step = judgeStep(numbers);
  // Digits that cannot be read must not look fine because the step is.
  if (numbers.overall === null) return step === "expected" ? "unknown" : step;
  const teams = numbers.teams.some(({ reading }) => isConcern(reading));
  return mostSerious([step, numbers.overallReading, teams ? "explain" : "expected"]);
}
