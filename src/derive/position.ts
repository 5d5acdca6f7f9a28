import { daysPerMonth } from "./age.js";

/**
 * Length under 24 months, height from there (WHO Child Growth Standards 2006). For an age in whole days this is length
 * to day 730 and height from day 731; an age written as 24.0 months is height.
 */
export const heightFromDays = 24 * daysPerMonth;

/** Age and position both unknown: below this, in cm, a measure is taken for a length. From memory; no source read. */
const heightFromCentimetres = 87;

/** Mean difference between length and height of the same child, cm: WHO MGRS Group, Acta Paediatrica 2006;Suppl 450:76-85. */
export const lengthMinusHeight = 0.7;

/** Position wanted for each child and the measure converted to it. */
export interface Placed {
  /** 1 length, 2 height, 0 when neither age nor position nor measure is known. */
  readonly positionWanted: Uint8Array;
  /** cm; NaN where not measured. */
  readonly standardHeight: Float64Array;
}

function wanted(ageDays: number, recorded: number, height: number): 0 | 1 | 2 {
  if (!Number.isNaN(ageDays)) return ageDays < heightFromDays ? 1 : 2;
  if (recorded === 1 || recorded === 2) return recorded;
  if (Number.isNaN(height)) return 0;
  return height < heightFromCentimetres ? 1 : 2;
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
