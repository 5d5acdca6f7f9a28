import type { Children, ExclusionRule, IndexId, ZColumn } from "./children.js";
import { markBelow } from "./rounding.js";

/** Limits in z, both kept: only a value beyond them is excluded. */
export interface Limits {
  readonly low: number;
  readonly high: number;
}

/**
 * Fixed limits of plausible z-scores. Strict: exactly -6.00 is kept; compared after rounding to two decimals.
 * Height-for-age, weight-for-height and weight-for-age: WHO 2006, as printed in DHS Methodological Report 33 (Benedict,
 * Namaste and Croft 2022). BMI-, arm- and head-circumference-for-age: from memory, no source read.
 */
export const fixedLimits: Readonly<Record<IndexId, Limits>> = {
  "weight-for-height": { low: -5, high: 5 },
  "height-for-age": { low: -6, high: 6 },
  "weight-for-age": { low: -6, high: 5 },
  "bmi-for-age": { low: -5, high: 5 },
  "arm-for-age": { low: -5, high: 5 },
  "head-for-age": { low: -5, high: 5 },
};

export type ExclusionColumns = Pick<ZColumn, "outsideFixed" | "outsideAroundMean" | "centre">;

function beyondFixed(z: Float64Array, limits: Limits): Uint8Array {
  const beyond = new Uint8Array(z.length);
  markBelow(z, 1, limits.low * 100, beyond);
  markBelow(z, -1, -limits.high * 100, beyond);
  return beyond;
}

/** Mean of the z-scores not excluded; NaN when there are none. */
function meanInside(z: Float64Array, outside: Uint8Array): number {
  let sum = 0;
  let n = 0;
  for (let i = 0; i < z.length; i++) {
    const value = z[i] as number;
    if (Number.isNaN(value) || outside[i] === 1) continue;
    sum += value;
    n += 1;
  }
  return n === 0 ? Number.NaN : sum / n;
}

/**
 * What each rule excludes in one index. Fixed: beyond `fixedLimits`. Around the mean: beyond those or further than
 * `width` from the mean of the values inside them (not rounded, not iterated), so this column contains the first.
 */
export function exclusionsOf(z: Float64Array, index: IndexId, width: number): ExclusionColumns {
  const outsideFixed = beyondFixed(z, fixedLimits[index]);
  const centre = meanInside(z, outsideFixed);
  const outsideAroundMean = outsideFixed.slice();
  for (let i = 0; i < z.length; i++) {
    if (Math.abs((z[i] as number) - centre) > width) outsideAroundMean[i] = 1;
  }
  return { outsideFixed, outsideAroundMean, centre };
}

/** 1 for every child whose z-score of this index the rule excludes (never one that has no z-score). Not to be changed. */
export function excluded(
  children: Pick<Children, "count" | "indices">,
  index: IndexId,
  rule: ExclusionRule,
): Uint8Array {
  const column = children.indices[index];
  if (rule === "fixed") return column.outsideFixed;
  if (rule === "around-mean") return column.outsideAroundMean;
  return new Uint8Array(children.count);
}

/** 1 for every child with a z-score of this index that the rule keeps. */
export function usable(children: Pick<Children, "count" | "indices">, index: IndexId, rule: ExclusionRule): Uint8Array {
  const { why } = children.indices[index];
  const aside = excluded(children, index, rule);
  const kept = new Uint8Array(why.length);
  for (let i = 0; i < why.length; i++) if (why[i] === 0 && aside[i] === 0) kept[i] = 1;
  return kept;
}
