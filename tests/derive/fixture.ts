import type { CodedColumn, MeasureColumn, Survey } from "../../src/columns/survey.js";
import type { ScoreInput } from "../../src/derive/scores.js";
import type { SurveySettings } from "../../src/settings/settings.js";

/** One row of a made-up survey; what is left out is missing. */
export interface Row {
  readonly sex?: 0 | 1 | 2;
  readonly interviewDay?: number;
  readonly birthDay?: number;
  readonly ageMonths?: number;
  readonly weight?: number;
  readonly height?: number;
  readonly arm?: number;
  readonly head?: number;
  readonly position?: 0 | 1 | 2;
  readonly oedema?: 0 | 1 | 2;
  readonly cluster?: string;
  readonly stratum?: string;
  readonly samplingWeight?: number;
}

export const settings: SurveySettings = {
  title: "A survey",
  name: "a-survey",
  population: "",
  language: "en",
  columns: {},
  ageRange: { from: 0, to: 59 },
  ageInMonths: "completed",
  exclusions: { default: "fixed", widthAroundMean: 3 },
  positionRule: "age",
  expectations: { boysPerGirl: 1.05, underFiveMortality: 50, growthOfBirths: 0.02 },
  clustersInPopulation: null,
  invented: true,
  seed: 1,
  notes: [],
};

type Field = keyof Row;

function numbers(rows: readonly Row[], field: Field): Float64Array | null {
  if (rows.every((row) => row[field] === undefined)) return null;
  return Float64Array.from(rows, (row) => (row[field] as number | undefined) ?? Number.NaN);
}

function measure(rows: readonly Row[], field: Field): MeasureColumn | null {
  const values = numbers(rows, field);
  if (values === null) return null;
  return { name: field, values, step: 0.1, missing: values.filter(Number.isNaN).length };
}

function bytes(rows: readonly Row[], field: Field, missing: number): Uint8Array | null {
  if (rows.every((row) => row[field] === undefined)) return null;
  return Uint8Array.from(rows, (row) => (row[field] as number | undefined) ?? missing);
}

function coded(rows: readonly Row[], field: Field): CodedColumn | null {
  if (rows.every((row) => row[field] === undefined)) return null;
  const texts = rows.map((row) => row[field] as string | undefined);
  const labels = [...new Set(texts.filter((text) => text !== undefined))];
  const codes = Int32Array.from(texts, (text) => (text === undefined ? -1 : labels.indexOf(text)));
  return { name: field, codes, labels, publicLabels: labels, disguised: false };
}

export function surveyOf(rows: readonly Row[], changed: Partial<SurveySettings> = {}): Survey {
  return {
    settings: { ...settings, ...changed },
    file: "rows.csv",
    rowCount: rows.length,
    sheetRow: Uint32Array.from(rows, (_, i) => i + 2),
    sex: Uint8Array.from(rows, (row) => row.sex ?? 0),
    interviewDay: numbers(rows, "interviewDay"),
    birthDay: numbers(rows, "birthDay"),
    ageMonths: numbers(rows, "ageMonths"),
    ageKnownHow: null,
    weight: measure(rows, "weight"),
    height: measure(rows, "height"),
    arm: measure(rows, "arm"),
    head: measure(rows, "head"),
    position: bytes(rows, "position", 0),
    oedema: bytes(rows, "oedema", 2),
    cluster: coded(rows, "cluster"),
    stratum: coded(rows, "stratum"),
    area: null,
    team: null,
    household: null,
    samplingWeight: numbers(rows, "samplingWeight"),
    subgroups: [],
  };
}

/** A row's columns for scoring; age in days. */
export interface ScoreRow {
  readonly sex?: 0 | 1 | 2;
  readonly days?: number;
  readonly weight?: number;
  readonly height?: number;
  readonly arm?: number;
  readonly head?: number;
  readonly position?: 0 | 1 | 2;
  readonly oedema?: 0 | 1 | 2;
}

export function inputOf(rows: readonly ScoreRow[], widthAroundMean = 3): ScoreInput {
  const column = (field: "days" | "weight" | "height" | "arm" | "head") =>
    Float64Array.from(rows, (row) => row[field] ?? Number.NaN);
  return {
    sex: Uint8Array.from(rows, (row) => row.sex ?? 0),
    ageDays: column("days"),
    weight: column("weight"),
    height: column("height"),
    arm: column("arm"),
    head: column("head"),
    position: Uint8Array.from(rows, (row) => row.position ?? 0),
    oedema: Uint8Array.from(rows, (row) => row.oedema ?? 0),
    widthAroundMean,
  };
}
