import type { CodedColumn, MeasureColumn } from "../../src/columns/survey.js";
import { type Children, type IndexId, indexIds, type ZColumn } from "../../src/derive/children.js";
import type { SurveySettings } from "../../src/settings/settings.js";

/** A column of numbers for a test: all values, one rule for every row, or null when the role is not in the data. */
export type NumbersGiven = ArrayLike<number> | ((row: number) => number) | null;
/** A column of categories: labels, empty or null where missing. */
export type LabelsGiven = readonly (string | null)[] | ((row: number) => string | null) | null;

export interface ChildrenGiven {
  readonly count: number;
  /** Defaults to boys and girls in turn. */
  readonly sex?: NumbersGiven;
  /** Exact age in months; defaults to ages spread evenly over 0-59 months (the same for every run). */
  readonly ageMonths?: NumbersGiven;
  /** Age in days; defaults to whole days from `ageMonths`. */
  readonly ageDays?: NumbersGiven;
  /** Defaults to 1 (two dates) where there is a birth day, else 2. */
  readonly ageSource?: NumbersGiven;
  /** Days since 1970-01-01; defaults to 20000 for every child. */
  readonly interviewDay?: NumbersGiven;
  /** Defaults to the interview day less the age in days. */
  readonly birthDay?: NumbersGiven;
  readonly ageKnownHow?: LabelsGiven;
  /** kg; defaults to a plain curve by age with some spread, to 0.1 kg. */
  readonly weight?: NumbersGiven;
  /** cm; defaults to a plain curve by age with some spread, to 0.1 cm. */
  readonly height?: NumbersGiven;
  /** mm; defaults to a plain curve by age with some spread, to 1 mm. */
  readonly arm?: NumbersGiven;
  /** Absent by default. */
  readonly head?: NumbersGiven;
  readonly steps?: {
    readonly weight?: number;
    readonly height?: number;
    readonly arm?: number;
    readonly head?: number;
  };
  /** 0 not recorded, 1 lying, 2 standing; absent by default. */
  readonly position?: NumbersGiven;
  /** 0 absent, 1 present, 2 not recorded; absent by default. */
  readonly oedema?: NumbersGiven;
  /** Absent by default, like the other categories. */
  readonly cluster?: LabelsGiven;
  readonly stratum?: LabelsGiven;
  readonly area?: LabelsGiven;
  readonly team?: LabelsGiven;
  readonly household?: LabelsGiven;
  readonly samplingWeight?: NumbersGiven;
  /** z-scores given directly; an index left out is all NaN ('measure missing'). */
  readonly z?: Partial<Record<IndexId, NumbersGiven>>;
  /** Half-width of the limits around the mean; defaults to 3. */
  readonly widthAroundMean?: number;
}

/** WHO fixed limits in z (WHO 2006; HAZ, WHZ and WAZ as in DHS Methodological Report 33). Strict: exactly the limit stays. */
const fixedLimits: Readonly<Record<IndexId, readonly [number, number]>> = {
  "weight-for-height": [-5, 5],
  "height-for-age": [-6, 6],
  "weight-for-age": [-6, 5],
  "bmi-for-age": [-5, 5],
  "arm-for-age": [-5, 5],
  "head-for-age": [-5, 5],
};

function numbers(given: NumbersGiven, count: number): Float64Array | null {
  if (given === null) return null;
  const values = new Float64Array(count);
  for (let i = 0; i < count; i++) values[i] = typeof given === "function" ? given(i) : (given[i] ?? Number.NaN);
  return values;
}

function measure(name: string, given: NumbersGiven, count: number, step: number): MeasureColumn | null {
  const values = numbers(given, count);
  if (values === null) return null;
  return { name, values, step, missing: values.reduce((sum, value) => sum + (Number.isNaN(value) ? 1 : 0), 0) };
}

/** A coded column from labels, in order of first appearance; public labels are the labels. */
export function codedColumn(name: string, given: LabelsGiven, count: number): CodedColumn | null {
  if (given === null) return null;
  const labels: string[] = [];
  const known = new Map<string, number>();
  const codes = new Int32Array(count).fill(-1);
  for (let i = 0; i < count; i++) {
    const label = (typeof given === "function" ? given(i) : given[i]) ?? "";
    if (label === "") continue;
    let code = known.get(label);
    if (code === undefined) {
      code = labels.length;
      known.set(label, code);
      labels.push(label);
    }
    codes[i] = code;
  }
  return { name, codes, labels, publicLabels: labels, disguised: false };
}

function zColumn(
  values: Float64Array | null,
  count: number,
  limits: readonly [number, number],
  width: number,
): ZColumn {
  const z = values ?? new Float64Array(count).fill(Number.NaN);
  const why = new Uint8Array(count);
  const outsideFixed = new Uint8Array(count);
  const outsideAroundMean = new Uint8Array(count);
  let sum = 0;
  let inside = 0;
  z.forEach((value, i) => {
    if (Number.isNaN(value)) why[i] = 3;
    else if (value < limits[0] || value > limits[1]) outsideFixed[i] = 1;
    else {
      sum += value;
      inside++;
    }
  });
  const centre = inside > 0 ? sum / inside : Number.NaN;
  z.forEach((value, i) => {
    if (outsideFixed[i] === 1 || Math.abs(value - centre) > width) outsideAroundMean[i] = 1;
  });
  return { z, why, outsideFixed, outsideAroundMean, centre };
}

/** A repeatable 'random' fraction for the default columns, by row and column. */
function fraction(row: number, column: number): number {
  const x = Math.sin((row + 1) * 12.9898 + column * 78.233) * 43758.5453;
  return x - Math.floor(x);
}

/** Plain invented growth curves for test children: not the standard, only of the right size. */
export const plainCurve = {
  height: (months: number): number => 50 + 58 * (1 - Math.exp(-months / 30)) + months * 0.08,
  weight: (height: number): number => 3.2 + 0.00112 * (height - 49) ** 2 + 0.165 * (height - 49),
  arm: (months: number): number => 115 + 40 * (1 - Math.exp(-months / 10)),
};

/** Children for a test of a check; every column has a sensible default. */
export function makeChildren(given: ChildrenGiven): Children {
  const { count } = given;
  const width = given.widthAroundMean ?? 3;
  const ageMonthsGiven = numbers(given.ageMonths ?? ((i) => (60 * ((i * 37) % 997)) / 997), count);
  const ageDays =
    numbers(given.ageDays ?? ((i) => Math.floor((ageMonthsGiven?.[i] ?? Number.NaN) * 30.4375)), count) ??
    new Float64Array(count).fill(Number.NaN);
  const ageMonths = given.ageMonths === undefined ? ageDays.map((days) => days / 30.4375) : ageMonthsGiven;
  const months = ageMonths ?? new Float64Array(count).fill(Number.NaN);
  const interviewDay = numbers(given.interviewDay === undefined ? () => 20000 : given.interviewDay, count);
  const birthDay = numbers(
    given.birthDay === undefined ? (i) => (interviewDay?.[i] ?? Number.NaN) - (ageDays[i] as number) : given.birthDay,
    count,
  );
  const age = (i: number): number => (Number.isNaN(months[i]) ? 30 : (months[i] as number));
  const spread = (i: number, column: number): number => 2 * fraction(i, column) - 1;
  const height = measure(
    "height_cm",
    given.height === undefined
      ? (i) => Math.round(10 * (plainCurve.height(age(i)) + 7 * spread(i, 1))) / 10
      : given.height,
    count,
    given.steps?.height ?? 0.1,
  );
  const tall = (i: number): number => {
    const value = height?.values[i] ?? Number.NaN;
    return Number.isNaN(value) ? plainCurve.height(age(i)) : value;
  };
  const weight = measure(
    "weight_kg",
    given.weight === undefined
      ? (i) => Math.round(10 * (plainCurve.weight(tall(i)) * (1 + 0.15 * spread(i, 2)))) / 10
      : given.weight,
    count,
    given.steps?.weight ?? 0.1,
  );
  const arm = measure(
    "arm_mm",
    given.arm === undefined ? (i) => Math.round(plainCurve.arm(age(i)) + 18 * spread(i, 3)) : given.arm,
    count,
    given.steps?.arm ?? 1,
  );
  const position = given.position === undefined ? null : numbers(given.position, count);
  const positionWanted = Uint8Array.from({ length: count }, (_, i) => {
    if (!Number.isNaN(ageDays[i])) return (ageDays[i] as number) < 731 ? 1 : 2;
    const value = height?.values[i] ?? Number.NaN;
    return Number.isNaN(value) ? 0 : value < 87 ? 1 : 2;
  });
  const standardHeight = Float64Array.from({ length: count }, (_, i) => {
    const value = height?.values[i] ?? Number.NaN;
    const was = position?.[i] ?? 0;
    if (positionWanted[i] === 1 && was === 2) return value + 0.7;
    return positionWanted[i] === 2 && was === 1 ? value - 0.7 : value;
  });
  const coded = (name: string, labels: LabelsGiven | undefined) => codedColumn(name, labels ?? null, count);
  const ageSource = given.ageSource === undefined ? null : numbers(given.ageSource, count);
  return {
    count,
    sheetRow: Uint32Array.from({ length: count }, (_, i) => i + 2),
    sex: Uint8Array.from(
      numbers(given.sex === undefined ? (i) => 1 + (i % 2) : given.sex, count) ?? new Uint8Array(count),
    ),
    interviewDay,
    birthDay,
    ageDays,
    ageMonths: months,
    ageSource: ageSource
      ? Uint8Array.from(ageSource)
      : Uint8Array.from(ageDays, (days, i) =>
          Number.isNaN(days) ? 0 : Number.isNaN(birthDay?.[i] ?? Number.NaN) ? 2 : 1,
        ),
    ageKnownHow: coded("age_known_how", given.ageKnownHow),
    weight,
    height,
    arm,
    head: measure("head_cm", given.head ?? null, count, given.steps?.head ?? 0.1),
    position: position && Uint8Array.from(position),
    positionWanted,
    standardHeight,
    oedema:
      given.oedema === undefined || given.oedema === null ? null : Uint8Array.from(numbers(given.oedema, count) ?? []),
    cluster: coded("cluster", given.cluster),
    stratum: coded("stratum", given.stratum),
    area: coded("area", given.area),
    team: coded("team", given.team),
    household: coded("household", given.household),
    samplingWeight: numbers(given.samplingWeight ?? null, count),
    subgroups: [],
    indices: Object.fromEntries(
      indexIds.map((id) => [id, zColumn(numbers(given.z?.[id] ?? null, count), count, fixedLimits[id], width)]),
    ) as Record<IndexId, ZColumn>,
  };
}

/** Settings for a test; expectations are invented round figures. */
export function makeSettings(changed: Partial<SurveySettings> = {}): SurveySettings {
  return {
    title: "A test survey",
    name: "a-test-survey",
    population: "",
    invented: true,
    language: "en",
    columns: {},
    ageRange: { from: 0, to: 59 },
    ageInMonths: "completed",
    exclusions: { default: "fixed", widthAroundMean: 3 },
    positionRule: "age",
    expectations: { boysPerGirl: 1.05, underFiveMortality: 60, growthOfBirths: 0.02 },
    clustersInPopulation: null,
    seed: 20240601,
    notes: [],
    ...changed,
  };
}
