import { daysPerMonth } from "../../src/derive/age.js";
import { growthTable } from "../../src/derive/growth-standards/growth-table.js";
import { lookUp } from "../../src/derive/growth-standards/look-up.js";
import { zScore } from "../../src/derive/z-score.js";
import { isLengthAge } from "../../src/example/growth.js";
import { surveyDays } from "../../src/example/place.js";
import type { FieldRecord } from "../../src/example/record.js";
import type { ExampleSurvey } from "../../src/example/survey.js";
import type { TrueChild } from "../../src/example/truth.js";

/** A record with the z-scores its written numbers give; NaN where one is missing. */
export interface ObservedChild {
  readonly record: FieldRecord;
  readonly truth: TrueChild;
  readonly ageDays: number;
  readonly weightForHeight: number;
  readonly heightForAge: number;
  readonly armForAge: number;
}

/** The written age: from two dates, else the middle of the completed month. */
export function ageDaysOf(record: FieldRecord): number {
  const exact = (surveyDays[record.day] ?? Number.NaN) - record.birthDay;
  return Number.isNaN(exact) ? (record.ageMonths + 0.5) * daysPerMonth : exact;
}

function scoreOf(table: Parameters<typeof growthTable>[0], sex: 0 | 1 | 2, key: number, value: number): number {
  const found = growthTable(table);
  const parameters = sex === 0 ? null : lookUp(found, sex, key);
  return parameters === null ? Number.NaN : zScore(value, parameters.l, parameters.m, parameters.s, found.restricted);
}

/** Z-scores from what was written, by the tables alone: not by way of the program's own columns. */
export function observe(survey: ExampleSurvey): ObservedChild[] {
  return survey.records.map((record) => {
    const truth = survey.children[record.child] as TrueChild;
    const ageDays = ageDaysOf(record);
    const lying = isLengthAge(ageDays);
    const shift = lying && record.position === 2 ? 0.7 : !lying && record.position === 1 ? -0.7 : 0;
    const height = record.height + shift;
    const weightTable = lying ? "weight-for-length" : "weight-for-height";
    return {
      record,
      truth,
      ageDays,
      weightForHeight: record.oedema === 1 ? Number.NaN : scoreOf(weightTable, record.sex, height, record.weight),
      heightForAge: scoreOf("length-height-for-age", record.sex, ageDays, height),
      armForAge: scoreOf("arm-circumference-for-age", record.sex, ageDays, record.arm / 10),
    };
  });
}

export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

export function known(values: readonly number[]): number[] {
  return values.filter((value) => !Number.isNaN(value));
}

export function correlation(a: readonly number[], b: readonly number[]): number {
  const [meanA, meanB] = [mean(a), mean(b)];
  let products = 0;
  let squaresA = 0;
  let squaresB = 0;
  a.forEach((x, i) => {
    const y = b[i] as number;
    products += (x - meanA) * (y - meanB);
    squaresA += (x - meanA) ** 2;
    squaresB += (y - meanB) ** 2;
  });
  return products / Math.sqrt(squaresA * squaresB);
}
