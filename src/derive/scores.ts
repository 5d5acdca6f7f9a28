import { type Children, type IndexId, indexIds, type ZColumn } from "./children.js";
import { exclusionsOf } from "./exclusions.js";
import { type GrowthTable, type GrowthTableId, growthTable } from "./growth-standards/growth-table.js";
import { interpolate, rowOf } from "./growth-standards/look-up.js";
import { type Placed, placeHeights } from "./position.js";
import { zScore } from "./z-score.js";

/** The columns z-scores are made of, one entry a child. Replace one and derive again. */
export interface ScoreInput {
  /** 0 missing, 1 male, 2 female. */
  readonly sex: Uint8Array;
  /** NaN unknown. */
  readonly ageDays: Float64Array;
  /** kg; NaN missing; null when not measured at all (as the columns below). */
  readonly weight: Float64Array | null;
  /** Length or height as measured, cm. */
  readonly height: Float64Array | null;
  /** Arm circumference, mm. */
  readonly arm: Float64Array | null;
  /** Head circumference, cm. */
  readonly head: Float64Array | null;
  /** 0 not recorded, 1 lying, 2 standing. */
  readonly position: Uint8Array | null;
  /** 0 absent, 1 present, 2 not recorded. */
  readonly oedema: Uint8Array | null;
  /** What was set aside as impossible, NaN elsewhere: it says why there is no score. Absent or null where there is none. */
  readonly setAside?: Readonly<Partial<Record<"age" | "weight" | "height" | "arm" | "head", Float64Array | null>>>;
  /** Half-width of the limits around the survey's mean, in z. */
  readonly widthAroundMean: number;
}

export interface Scores extends Placed {
  readonly indices: Readonly<Record<IndexId, ZColumn>>;
}

type Aside = Float64Array | null | undefined;

/** What one index reads: a measure at a key of a table. */
interface IndexReading {
  /** The measure in the table's unit times `perUnit`; null when not measured. */
  readonly measure: Float64Array | null;
  readonly perUnit: number;
  /** Days of age, or length or height in cm. */
  readonly key: Float64Array;
  /** Code of `noScoreReasons` where the key is missing. */
  readonly keyMissing: number;
  /** Columns of values set aside that the measure and the key are made of. */
  readonly measureSetAside: readonly Aside[];
  readonly keySetAside: readonly Aside[];
  /** True where oedema makes the measure useless. */
  readonly weightBased: boolean;
  readonly lying: GrowthTableId;
  readonly standing: GrowthTableId;
}

// Codes of noScoreReasons.
const sexMissing = 1;
const ageMissing = 2;
const measureMissing = 3;
const outsideTable = 4;
const oedemaPresent = 5;
const impossible = 6;

/** Weight in kg over the square of length or height in metres; NaN where either is missing. */
function bodyMassIndex(weight: Float64Array | null, height: Float64Array): Float64Array | null {
  if (weight === null) return null;
  return weight.map((kilograms, i) => kilograms / ((height[i] as number) / 100) ** 2);
}

function byAge(
  { ageDays, setAside }: ScoreInput,
  table: GrowthTableId,
  measure: Float64Array | null,
  measureSetAside: readonly Aside[],
): IndexReading {
  const base = { perUnit: 1, weightBased: false, lying: table, standing: table };
  const key = { key: ageDays, keyMissing: ageMissing, keySetAside: [setAside?.age] };
  return { ...base, measure, measureSetAside, ...key };
}

function readingOf(index: IndexId, input: ScoreInput, placed: Placed): IndexReading {
  const { weight, arm, head, setAside: aside } = input;
  const { standardHeight } = placed;
  switch (index) {
    case "weight-for-height": {
      const tables = { lying: "weight-for-length", standing: "weight-for-height" } as const;
      const key = { key: standardHeight, keyMissing: measureMissing, keySetAside: [aside?.height] };
      return { measure: weight, measureSetAside: [aside?.weight], perUnit: 1, weightBased: true, ...key, ...tables };
    }
    case "height-for-age":
      return byAge(input, "length-height-for-age", standardHeight, [aside?.height]);
    case "weight-for-age":
      return { ...byAge(input, "weight-for-age", weight, [aside?.weight]), weightBased: true };
    case "bmi-for-age": {
      const measure = bodyMassIndex(weight, standardHeight);
      return { ...byAge(input, "bmi-for-age", measure, [aside?.weight, aside?.height]), weightBased: true };
    }
    case "arm-for-age":
      // Millimetres against a table in centimetres.
      return { ...byAge(input, "arm-circumference-for-age", arm, [aside?.arm]), perUnit: 10 };
    case "head-for-age":
      return byAge(input, "head-circumference-for-age", head, [aside?.head]);
  }
}

/** Why a value is not there: as a rule, or since what stands in the file is impossible. */
function whyMissing(usual: number, setAside: readonly Aside[], row: number): number {
  return setAside.some((column) => column != null && !Number.isNaN(column[row])) ? impossible : usual;
}

function scoreAt(table: GrowthTable, sex: number, row: number, measure: number): number {
  const { l, m, s } = sex === 1 ? table.male : table.female;
  return zScore(measure, interpolate(l, row), interpolate(m, row), interpolate(s, row), table.restricted);
}

/** Scores that stand but for those of some rows. */
export interface Standing {
  readonly column: Pick<ZColumn, "z" | "why">;
  /** The rows to score anew. */
  readonly rows: Int32Array;
}

function scoreAll(
  reading: IndexReading,
  input: ScoreInput,
  positionWanted: Uint8Array,
  standing?: Standing,
): Pick<ZColumn, "z" | "why"> {
  const z = standing?.column.z.slice() ?? new Float64Array(input.sex.length);
  const why = standing?.column.why.slice() ?? new Uint8Array(input.sex.length);
  const { measure, perUnit, key, keyMissing } = reading;
  if (measure === null) return { z: z.fill(Number.NaN), why: why.fill(measureMissing) };
  const oedema = reading.weightBased ? input.oedema : null;
  const lying = growthTable(reading.lying);
  const upright = growthTable(reading.standing);
  const rows = standing?.rows;
  const count = rows?.length ?? z.length;
  for (let k = 0; k < count; k++) {
    const i = rows === undefined ? k : (rows[k] as number);
    z[i] = Number.NaN;
    why[i] = 0;
    const sex = input.sex[i] as number;
    const value = measure[i] as number;
    const at = key[i] as number;
    if (sex === 0) why[i] = sexMissing;
    else if (Number.isNaN(at)) why[i] = whyMissing(keyMissing, reading.keySetAside, i);
    else if (!(value > 0)) why[i] = whyMissing(measureMissing, reading.measureSetAside, i);
    else if (oedema !== null && oedema[i] === 1) why[i] = oedemaPresent;
    else {
      const table = positionWanted[i] === 1 ? lying : upright;
      const row = rowOf(table, at);
      if (Number.isNaN(row)) why[i] = outsideTable;
      else z[i] = scoreAt(table, sex, row, value / perUnit);
    }
  }
  return { z, why };
}

/**
 * z-scores of one index, with the first reason that applies where there is none: sex, age, measure, oedema, table. Where most of them
 * stand already, only the other rows are scored.
 */
export function scoreIndex(index: IndexId, input: ScoreInput, placed: Placed, standing?: Standing): ZColumn {
  const { z, why } = scoreAll(readingOf(index, input, placed), input, placed.positionWanted, standing);
  return { z, why, ...exclusionsOf(z, index, input.widthAroundMean) };
}

/**
 * Positions, converted heights, z-scores of all six indices, and what the exclusion rules exclude. Weight-based
 * z-scores of a child with oedema are not computed: its weight holds fluid. Pure: a scenario changes one column of the
 * input and calls it again.
 */
export function deriveScores(input: ScoreInput): Scores {
  const placed = placeHeights(input.ageDays, input.height, input.position);
  const columns = indexIds.map((index) => [index, scoreIndex(index, input, placed)] as const);
  return { ...placed, indices: Object.fromEntries(columns) as Record<IndexId, ZColumn> };
}

/** The columns of children that z-scores are made of. */
export function scoreInputOf(children: Omit<Children, keyof Scores>, widthAroundMean: number): ScoreInput {
  return {
    sex: children.sex,
    ageDays: children.ageDays,
    weight: children.weight?.values ?? null,
    height: children.height?.values ?? null,
    arm: children.arm?.values ?? null,
    head: children.head?.values ?? null,
    position: children.position,
    oedema: children.oedema,
    setAside: {
      age: children.ageSetAside ?? null,
      weight: children.weight?.setAside ?? null,
      height: children.height?.setAside ?? null,
      arm: children.arm?.setAside ?? null,
      head: children.head?.setAside ?? null,
    },
    widthAroundMean,
  };
}
