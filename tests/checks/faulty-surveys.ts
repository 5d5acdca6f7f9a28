import type { Children } from "../../src/derive/children.js";
import { cleanSurvey } from "./clean-survey.js";
import { codedColumn } from "./make-children.js";

const clean = cleanSurvey({ seed: 11 });
const months = cleanSurvey({ seed: 12, monthsOnly: true });

function where(children: Children, column: "team" | "area", label: string): (i: number) => boolean {
  return (i) => children[column]?.labels[children[column]?.codes[i] ?? -1] === label;
}

function without(values: Float64Array, gone: (i: number) => boolean): Float64Array {
  return values.map((value, i) => (gone(i) ? Number.NaN : value));
}

/** Copies the values of one child over another's, in everything that repeated rows are compared on. */
function repeated(children: Children, copies: number): Children {
  const { weight, height, arm, birthDay, team, cluster } = children;
  if (weight === null || height === null || arm === null || birthDay === null || team === null || cluster === null)
    return children;
  const columns = {
    sex: children.sex.slice(),
    ageDays: children.ageDays.slice(),
    ageMonths: children.ageMonths.slice(),
    ageSource: children.ageSource.slice(),
    birthDay: birthDay.slice(),
    weight: { ...weight, values: weight.values.slice() },
    height: { ...height, values: height.values.slice() },
    arm: { ...arm, values: arm.values.slice() },
  };
  for (let copy = 0; copy < copies; copy++) {
    const [from, to] = [
      7 + 25 * (copy % 30) + 2 * Math.floor(copy / 30),
      8 + 25 * (copy % 30) + 2 * Math.floor(copy / 30),
    ];
    for (const column of [
      columns.sex,
      columns.ageDays,
      columns.ageMonths,
      columns.ageSource,
      columns.birthDay,
      columns.weight.values,
      columns.height.values,
      columns.arm.values,
    ]) {
      column[to] = column[from] as number;
    }
  }
  return { ...children, ...columns };
}

/** Moves ages to the nearest whole year for some children; the birth date moves with the age. */
function heaped(children: Children, chosen: (i: number) => boolean): Children {
  const ageMonths = children.ageMonths.map((age, i) =>
    chosen(i) && age >= 9 ? 12 * Math.min(4, Math.round(age / 12)) + 0.2 : age,
  );
  const ageDays = ageMonths.map((age) => Math.floor(age * 30.4375));
  const birthDay =
    children.birthDay === null ? null : ageDays.map((days, i) => (children.interviewDay?.[i] as number) - days);
  return { ...children, ageMonths, ageDays, birthDay };
}

function withZ(children: Children, change: (z: number, i: number) => number): Children {
  const { z, ...rest } = children.indices["height-for-age"];
  const changed = z.map(change);
  const outsideFixed = Uint8Array.from(changed, (score) => (score < -6 || score > 6 ? 1 : 0));
  return { ...children, indices: { ...children.indices, "height-for-age": { ...rest, z: changed, outsideFixed } } };
}

const measured = (column: "weight" | "height", gone: (i: number) => boolean): Children => {
  const own = clean[column];
  return own === null ? clean : { ...clean, [column]: { ...own, values: without(own.values, gone) } };
};

/** Surveys with one planted fault each, made from clean ones. */
export const faultySurveys = {
  "heights missing in one team": measured("height", (i) => where(clean, "team", "T2")(i) && i % 3 === 0),
  "weights missing everywhere": measured("weight", (i) => i % 4 === 0),
  "heights missing among the oldest": measured("height", (i) => (clean.ageMonths[i] as number) >= 24 && i % 6 === 0),
  "a few rows twice": repeated(clean, 4),
  "many rows twice": repeated(clean, 30),
  "too many boys": { ...clean, sex: clean.sex.map((code, i) => (code === 2 && i % 4 === 0 ? 1 : code)) },
  "all boys in one team": { ...clean, sex: clean.sex.map((code, i) => (where(clean, "team", "T4")(i) ? 1 : code)) },
  "only boys": { ...clean, sex: clean.sex.map(() => 1) },
  "young children left out": {
    ...clean,
    ageMonths: without(clean.ageMonths, (i) => (clean.ageMonths[i] as number) < 24 && i % 3 !== 0),
    ageDays: without(clean.ageDays, (i) => (clean.ageMonths[i] as number) < 24 && i % 3 !== 0),
  },
  "a few young children left out": {
    ...clean,
    ageMonths: without(clean.ageMonths, (i) => (clean.ageMonths[i] as number) < 30 && i % 4 === 0),
    ageDays: without(clean.ageDays, (i) => (clean.ageMonths[i] as number) < 30 && i % 4 === 0),
  },
  "only young children": {
    ...clean,
    ageMonths: without(clean.ageMonths, (i) => (clean.ageMonths[i] as number) >= 30),
    ageDays: without(clean.ageDays, (i) => (clean.ageMonths[i] as number) >= 30),
  },
  "one area heaps ages": heaped(clean, (i) => where(clean, "area", "A2")(i) && i % 10 < 4),
  "ages heaped everywhere": heaped(months, (i) => i % 2 === 0),
  "birth dates on the fifteenth": {
    ...clean,
    birthDay:
      clean.birthDay?.map((day, i) => {
        if (Number.isNaN(day) || i % 5 === 0) return day;
        const date = new Date(day * 86_400_000);
        return Date.UTC(date.getUTCFullYear(), date.getUTCMonth(), 15) / 86_400_000;
      }) ?? null,
  },
  "everyone standing": { ...clean, position: clean.position?.map((code) => (code === 0 ? 0 : 2)) ?? null },
  "one team measures by height": {
    ...clean,
    position:
      clean.position?.map((code, i) =>
        code === 0 || !where(clean, "team", "T3")(i) ? code : (clean.height?.values[i] as number) < 87 ? 1 : 2,
      ) ?? null,
  },
  "implausible heights in one team": withZ(clean, (z, i) => (where(clean, "team", "T5")(i) && i % 12 === 0 ? -7.5 : z)),
  "implausible heights": withZ(clean, (z, i) => (i % 15 === 0 ? 6.8 : z)),
  "ages known in two ways": {
    ...clean,
    ageKnownHow: codedColumn("age_known_how", (i) => (i % 3 === 0 ? "recalled" : "documented"), clean.count),
  },
} satisfies Record<string, Children>;
