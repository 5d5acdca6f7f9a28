import { daysPerMonth } from "./age.js";

/**
 * Length under 24 months, height from there (WHO Child Growth Standards 2006; instructions to teams say the same: "less
 * than 24 months are to be measured lying down, children 24 months or older standing up"). 24 months are 730.5 days: for
 * an age in whole days this is length to day 730 and height from day 731; an age written as 24.0 months is height.
 */
export const heightFromDays = 24 * daysPerMonth;

/** Where the age is not known, or the teams' rule goes by it: length below this, in cm. From memory; no source read. */
export const heightFromCentimetres = 87;

/** Mean difference between length and height of the same child, cm: WHO MGRS Group, Acta Paediatrica 2006;Suppl 450:76-85. */
export const lengthMinusHeight = 0.7;

/** Position wanted for each child and the measure converted to it. */
export interface Placed {
  /** 1 length, 2 height, 0 when neither age nor position nor measure is known. */
  readonly positionWanted: Uint8Array;
  /** cm; NaN where not measured. */
  readonly standardHeight: Float64Array;
}

/** The position by a rule: 1 length below its limit, 2 height from there, 0 where what it goes by is unknown. */
export function positionBy(rule: "age" | "height", ageDays: number, height: number): 0 | 1 | 2 {
  const value = rule === "age" ? ageDays : height;
  if (Number.isNaN(value)) return 0;
  return value < (rule === "age" ? heightFromDays : heightFromCentimetres) ? 1 : 2;
}

function wanted(ageDays: number, recorded: number, height: number): 0 | 1 | 2 {
  const byAge = positionBy("age", ageDays, height);
  if (byAge !== 0) return byAge;
  if (recorded === 1 || recorded === 2) return recorded;
  return positionBy("height", ageDays, height);
}

/**
 * The position the standard wants and the measure in that position. By age: length under 24 months, then height; a
 * child measured standing where length is wanted gains 0.7 cm, one measured lying where height is wanted loses 0.7 cm;
 * a position that was not recorded is assumed to be the one wanted. Where age is unknown, the recorded position stands
 * without conversion; where that is unknown too, below 87 cm is length. The rule the teams were told to follow plays no
 * part: whatever they did, the standard wants its position by age.
 */
export function placeHeights(ageDays: Float64Array, height: Float64Array | null, position: Uint8Array | null): Placed {
  const count = ageDays.length;
  const positionWanted = new Uint8Array(count);
  const standardHeight = new Float64Array(count).fill(Number.NaN);
  for (let i = 0; i < count; i++) {
    const measured = height?.[i] ?? Number.NaN;
    const recorded = position?.[i] ?? 0;
    const want = wanted(ageDays[i] as number, recorded, measured);
    positionWanted[i] = want;
    standardHeight[i] = measured;
    if (want === 1 && recorded === 2) standardHeight[i] = measured + lengthMinusHeight;
    if (want === 2 && recorded === 1) standardHeight[i] = measured - lengthMinusHeight;
  }
  return { positionWanted, standardHeight };
}
