import type { Children } from "../../derive/children.js";
import { pairsOf, pairsWithin, refine } from "./repeats.js";

/** Rows as codes; -1 for a child that cannot be compared (sex, age, weight or height missing). */
export interface RowCodes {
  readonly start: Int32Array;
  readonly sex: Int32Array;
  readonly sexAndMonth: Int32Array;
  /** Same sex, and same birth date where there is one, else same age in months. */
  readonly sexAndAge: Int32Array;
  /** Equal in everything. */
  readonly all: Int32Array;
}

function comparable(children: Children): Int32Array {
  return Int32Array.from({ length: children.count }, (_, i) => {
    const weight = children.weight?.values[i] ?? Number.NaN;
    const height = children.height?.values[i] ?? Number.NaN;
    const known = children.sex[i] !== 0 && !Number.isNaN(children.ageDays[i]);
    return known && !Number.isNaN(weight) && !Number.isNaN(height) ? 0 : -1;
  });
}

/** The birth date where there is one (as a negative number, apart from the months), else the age in months. */
function ageKeys({ count, ageSource, birthDay, ageMonths }: Children): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => {
    const born = birthDay?.[i] ?? Number.NaN;
    return ageSource[i] === 1 && !Number.isNaN(born) ? -1e6 - born : (ageMonths[i] as number);
  });
}

/** Codes of the rows of a survey. */
export function rowCodes(children: Children): RowCodes {
  const start = comparable(children);
  const sex = refine(start, children.sex);
  const sexAndAge = refine(sex, ageKeys(children));
  const measured = refine(refine(sexAndAge, valuesOf(children, "height")), valuesOf(children, "weight"));
  return {
    start,
    sex,
    sexAndMonth: refine(sex, children.ageMonths.map(Math.floor)),
    sexAndAge,
    all: children.arm === null ? measured : refine(measured, children.arm.values),
  };
}

function valuesOf(children: Children, measure: "weight" | "height"): Float64Array {
  return children[measure]?.values ?? new Float64Array(children.count).fill(Number.NaN);
}

/** The share of pairs, apart from those equal in everything; half a pair is added so that it is never 0. */
function agreement(pairs: Float64Array, of: Float64Array, equal: Float64Array): Float64Array {
  return of.map((all, i) => ((pairs[i] as number) - (equal[i] as number) + 0.5) / (all - (equal[i] as number) + 1));
}

/** A chance is kept below this before it is turned into odds: own choice, reached only where nearly all are alike. */
const mostCertain = 0.9;

/**
 * Pairs of children expected to be equal in everything by chance, from the survey's own pairs. Pairs that agree in sex,
 * height and weight are many; how many of them agree in the rest by chance follows from those that do not:
 *
 *   expected = sum over cells of (sex, height, weight) of
 *              (pairs of the cell, less those equal in everything) * c / (1 - c),   c = age * arm
 *
 * age: share of the pairs of one sex and the same 2 cm of height that are of the same month of age, times the share of
 * pairs of one sex and month that share the birth date. arm: share of the pairs of one sex and weight and the same 4 cm
 * of height, in the cell's 2 kg of weight, that agree in arm circumference; 1 where there is none. Children with and
 * without an arm circumference are taken apart throughout. It takes agreement in age to be independent of agreement in
 * weight and arm once sex and height are given, and follows the survey's own rounding. Pairs equal in everything are
 * taken out everywhere, so that repeats do not excuse themselves.
 */
export function expectedEqualPairs(children: Children, codes: RowCodes): number {
  const { start, sex, sexAndMonth, sexAndAge, all } = codes;
  const withArm = Uint8Array.from({ length: children.count }, (_, i) =>
    Number.isNaN(children.arm?.values[i] ?? Number.NaN) ? 0 : 1,
  );
  const alike = refine(sex, withArm);
  const heights = valuesOf(children, "height");
  const weights = valuesOf(children, "weight");
  const equal = pairsOf(all);
  const sameDate = (pairsOf(sexAndAge) - equal + 0.5) / (pairsOf(sexAndMonth) - equal + 1);
  const tall = refine(
    alike,
    heights.map((height) => Math.floor(height / 2)),
  );
  const months = refine(tall, children.ageMonths.map(Math.floor));
  const sameMonth = agreement(pairsWithin(months, tall), pairsWithin(tall, tall), pairsWithin(all, tall));
  const heavy = refine(
    refine(start, withArm),
    weights.map((weight) => Math.floor(weight / 2)),
  );
  const build = refine(
    refine(alike, weights),
    heights.map((height) => Math.floor(height / 4)),
  );
  const arms = children.arm === null ? build : refine(build, children.arm.values);
  const sameArm = agreement(pairsWithin(arms, heavy), pairsWithin(build, heavy), pairsWithin(all, heavy));
  const cells = refine(refine(alike, heights), weights);
  const pairs = pairsWithin(cells, cells);
  const equalOfCell = pairsWithin(all, cells);
  let expected = 0;
  const counted = new Uint8Array(pairs.length);
  cells.forEach((cell, i) => {
    if (cell < 0 || counted[cell] === 1) return;
    counted[cell] = 1;
    const sameAge = (sameMonth[tall[i] as number] as number) * Math.min(1, sameDate);
    const rest = sameAge * (children.arm === null ? 1 : (sameArm[heavy[i] as number] as number));
    const chance = Math.min(mostCertain, rest);
    expected += (((pairs[cell] as number) - (equalOfCell[cell] as number)) * chance) / (1 - chance);
  });
  return expected;
}
