import { daysPerMonth } from "../../derive/age.js";
import type { Children } from "../../derive/children.js";
import { message } from "../../results/message.js";
import type { Message } from "../../results/schema.js";
import type { SurveySettings } from "../../settings/settings.js";
import type { Suspects } from "./suspects.js";

type Measure = "weight" | "height" | "arm" | "head";

/** One slip of the pen: what the record would be without it, and how to say so. */
export interface Change {
  readonly id: string;
  /** Columns without the slip, and 1 for every record in which it can have happened. */
  make(suspects: Suspects): { readonly applies: Uint8Array; readonly columns: Partial<Suspects> };
  say(before: Suspects, after: Suspects, row: number): Message;
}

const unitOf: Readonly<Record<Measure, string>> = {
  weight: "kilogram",
  height: "centimetre",
  arm: "millimetre",
  head: "centimetre",
};

const measured = (measure: Measure, value: number): Message => message(`suggestion.${unitOf[measure]}`, { value });

/** Kilograms of a pound (avoirdupois) and centimetres of an inch: exact, international yard and pound agreement of 1959. */
const poundInKilograms = 0.45359237;
const inchInCentimetres = 2.54;

/**
 * Slips that multiply a measure: written value times `times` is the one meant. A slipped decimal point and a measure
 * written in the next metric unit are one and the same number, and said together.
 */
const factors: readonly { readonly measure: Measure; readonly id: string; readonly times: number }[] = [
  ...(["weight", "height", "arm", "head"] as const).flatMap((measure) => [
    { measure, id: "decimal", times: 10 },
    { measure, id: "decimal", times: 0.1 },
  ]),
  { measure: "weight", id: "decimal", times: 0.01 },
  { measure: "weight", id: "other-unit", times: 0.001 },
  { measure: "weight", id: "other-unit", times: 1000 },
  { measure: "height", id: "other-unit", times: 100 },
  { measure: "height", id: "other-unit", times: 0.01 },
  { measure: "height", id: "other-unit", times: 0.001 },
  { measure: "weight", id: "pounds", times: poundInKilograms },
  { measure: "height", id: "inches", times: inchInCentimetres },
  { measure: "head", id: "inches", times: inchInCentimetres },
];

function known(...columns: readonly (Float64Array | null)[]): Uint8Array {
  const [first] = columns;
  return Uint8Array.from(first ?? [], (_, row) =>
    columns.every((column) => column !== null && !Number.isNaN(column[row])) ? 1 : 0,
  );
}

/** A change of a measure that was not taken. */
const none = (suspects: Suspects) => ({ applies: new Uint8Array(suspects.sex.length), columns: {} });

function wasAndNow(
  id: string,
  measure: Measure,
  column: string,
  before: Suspects,
  after: Suspects,
  row: number,
): Message {
  return message(`suggestion.${id}`, {
    column,
    was: measured(measure, before[measure]?.[row] ?? Number.NaN),
    now: measured(measure, after[measure]?.[row] ?? Number.NaN),
  });
}

function scaled({ measure, id, times }: (typeof factors)[number], name: string): Change {
  return {
    id: `${id}/${measure}/${times}`,
    make: (suspects) => {
      const values = suspects[measure];
      if (values === null) return none(suspects);
      // Six decimals: 12.4 / 10 is 1.24, without the noise of binary fractions.
      const columns = { [measure]: values.map((value) => Number((value * times).toFixed(6))) };
      return { applies: known(values), columns };
    },
    say: (before, after, row) => wasAndNow(id, measure, name, before, after, row),
  };
}

/**
 * Wrong tens of a weight: 22.4 for 12.4 kg, which would else be taken for pounds. No other digit is looked at: a wrong one
 * explains a true extreme too often (ten centimetres more: one in six of very short children, computed).
 */
const tens: readonly { readonly measure: Measure; readonly added: number }[] = [{ measure: "weight", added: -10 }];

function shifted({ measure, added }: (typeof tens)[number], name: string): Change {
  return {
    id: `tens/${measure}/${added}`,
    make: (suspects) => {
      const values = suspects[measure];
      if (values === null) return none(suspects);
      const columns = { [measure]: values.map((value) => Number((value + added).toFixed(6))) };
      return { applies: known(values), columns };
    },
    say: (before, after, row) => wasAndNow("tens", measure, name, before, after, row),
  };
}

/** Pairs of measures whose numbers may stand in each other's column; `times` turns the first's number into the second's unit. */
const pairs: readonly { readonly first: Measure; readonly second: Measure; readonly times: number }[] = [
  { first: "weight", second: "height", times: 1 },
  { first: "height", second: "arm", times: 1 },
  // Arm circumference written in centimetres in the file.
  { first: "height", second: "arm", times: 10 },
  { first: "height", second: "head", times: 1 },
];

function exchanged({ first, second, times }: (typeof pairs)[number], names: readonly [string, string]): Change {
  return {
    id: `swapped/${first}-${second}/${times}`,
    make: (suspects) => {
      const [one, other] = [suspects[first], suspects[second]];
      if (one === null || other === null) return none(suspects);
      const columns = { [first]: other.map((value) => value / times), [second]: one.map((value) => value * times) };
      return { applies: known(one, other), columns };
    },
    say: () => message("suggestion.swapped", { first: names[0], second: names[1] }),
  };
}

/** The settings that ages depend on. */
export type AgeSettings = Pick<SurveySettings, "ageRange" | "ageInMonths">;

/** The number that stands in an age column: completed months were moved to the middle of their month. */
function writtenAge(days: number, reading: SurveySettings["ageInMonths"]): number {
  const months = days / daysPerMonth;
  const middle = Math.abs(months - Math.floor(months) - 0.5) < 1e-6;
  return reading === "completed" && middle ? Math.floor(months) : months;
}

/**
 * Days for each unit. Weeks only where the number is too large for months: a very short child of three years has the size
 * of one of as many weeks (one in fifteen such children would be explained away, computed).
 */
const daysOfAge = {
  // A whole number of years stands for the middle of that year.
  years: (age: number) => (Number.isInteger(age) ? age + 0.5 : age) * 12 * daysPerMonth,
  weeks: (age: number) => age * 7,
  days: (age: number) => age,
} as const;

function agedIn(unit: keyof typeof daysOfAge, { ageInMonths, ageRange }: AgeSettings): Change {
  const tooLarge = (days: number): boolean => days >= (ageRange.to + 1) * daysPerMonth;
  return {
    id: `age-${unit}`,
    make: (suspects) => ({
      applies: suspects.ageSource.map((source, row) =>
        source === 2 && (unit !== "weeks" || tooLarge(suspects.ageDays[row] as number)) ? 1 : 0,
      ),
      columns: { ageDays: suspects.ageDays.map((days) => daysOfAge[unit](writtenAge(days, ageInMonths))) },
    }),
    say: () => message(`suggestion.age-${unit}`),
  };
}

const millisecondsADay = 86_400_000;

/** The day with its day and month exchanged; NaN where that is no other day. */
export function dayMonthExchanged(day: number): number {
  const date = new Date(day * millisecondsADay);
  const [month, dayOfMonth] = [date.getUTCMonth() + 1, date.getUTCDate()];
  if (!(dayOfMonth <= 12) || month === dayOfMonth) return Number.NaN;
  return Date.UTC(date.getUTCFullYear(), dayOfMonth - 1, month) / millisecondsADay;
}

const birthDayExchanged: Change = {
  id: "day-month",
  make: (suspects) => {
    const birthDay = suspects.birthDay.map(dayMonthExchanged);
    const ageDays = birthDay.map((day, row) => (suspects.interviewDay[row] as number) - day);
    const applies = ageDays.map((days, row) => (suspects.ageSource[row] === 1 && days >= 0 ? 1 : 0));
    return { applies: Uint8Array.from(applies), columns: { birthDay, ageDays } };
  },
  say: (_, after, row) =>
    message("suggestion.day-month", {
      date: new Date((after.birthDay[row] as number) * millisecondsADay).toISOString().slice(0, 10),
    }),
};

/**
 * Lying for standing, or the other way round. It moves a length by 0.7 cm and so a z-score by a third at most: it can
 * explain a value just beyond a limit in a survey whose own mean is low, and nothing else.
 */
const otherPosition: Change = {
  id: "position",
  make: (suspects) => {
    const position = (suspects.position ?? new Uint8Array(suspects.sex.length)).map((code) =>
      code === 0 ? 0 : 3 - code,
    );
    return { applies: position.map((code) => (code === 0 ? 0 : 1)), columns: { position } };
  },
  say: (_, after, row) => message(`suggestion.position.${after.position?.[row] === 1 ? "lying" : "standing"}`),
};

/** Every change that the columns of these children allow. */
export function changes(children: Children, settings: AgeSettings): Change[] {
  const nameOf = (measure: Measure): string | null => children[measure]?.name ?? null;
  const ofMeasures = factors.flatMap((factor) => {
    const name = nameOf(factor.measure);
    return name === null ? [] : [scaled(factor, name)];
  });
  const ofTens = tens.flatMap((one) => {
    const name = nameOf(one.measure);
    return name === null ? [] : [shifted(one, name)];
  });
  const ofPairs = pairs.flatMap((pair) => {
    const [first, second] = [nameOf(pair.first), nameOf(pair.second)];
    return first === null || second === null ? [] : [exchanged(pair, [first, second])];
  });
  const ages = (["years", "weeks", "days"] as const).map((unit) => agedIn(unit, settings));
  return [...ofMeasures, ...ofTens, ...ofPairs, ...ages, birthDayExchanged, otherPosition];
}
