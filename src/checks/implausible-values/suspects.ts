import type { Children } from "../../derive/children.js";
import { takeRows } from "../../derive/columns.js";
import { type ScoreInput, scoreInputOf } from "../../derive/scores.js";

/** Records someone should look at, column by column: what z-scores are made of, and what ages are made of. */
export interface Suspects extends ScoreInput {
  /** 1 from two dates, 2 from an age in months, 0 unknown. */
  readonly ageSource: Uint8Array;
  /** Days since 1970-01-01; NaN missing. */
  readonly birthDay: Float64Array;
  readonly interviewDay: Float64Array;
}

/** Chosen children as suspects. */
export function suspectsOf(children: Children, rows: readonly number[], width: number): Suspects {
  const at = <Column extends Float64Array | Uint8Array>(column: Column | null): Column | null =>
    column === null ? null : takeRows(column, rows);
  const missing = () => new Float64Array(rows.length).fill(Number.NaN);
  const input = scoreInputOf(children, width);
  return {
    sex: at(input.sex) ?? new Uint8Array(rows.length),
    ageDays: at(input.ageDays) ?? missing(),
    weight: at(input.weight),
    height: at(input.height),
    arm: at(input.arm),
    head: at(input.head),
    position: at(input.position),
    oedema: at(input.oedema),
    widthAroundMean: width,
    ageSource: at(children.ageSource) ?? new Uint8Array(rows.length),
    birthDay: at(children.birthDay) ?? missing(),
    interviewDay: at(children.interviewDay) ?? missing(),
  };
}
