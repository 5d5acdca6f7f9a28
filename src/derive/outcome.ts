import { withinMonths } from "./age.js";
import type { Children, ExclusionRule, IndexId } from "./children.js";
import { type Limits, usable } from "./exclusions.js";
import { markBelow } from "./rounding.js";

export type OutcomeId =
  | "wasting"
  | "severe-wasting"
  | "overweight"
  | "obesity"
  | "stunting"
  | "severe-stunting"
  | "underweight"
  | "severe-underweight"
  | "oedema"
  | "acute-malnutrition-by-weight-for-height"
  | "severe-acute-malnutrition-by-weight-for-height"
  | "acute-malnutrition-by-arm-circumference"
  | "severe-acute-malnutrition-by-arm-circumference"
  | "acute-malnutrition-combined"
  | "severe-acute-malnutrition-combined";

/** One entry a child: 1 where it belongs to the denominator, and 1 where it is a case (never outside the denominator). */
export interface OutcomeColumns {
  readonly isCase: Uint8Array;
  readonly inDomain: Uint8Array;
}

/** The columns of children that an outcome is judged by; all of them as long as there are children. */
export type OutcomeInput = Pick<Children, "count" | "ageDays" | "oedema" | "arm" | "indices">;

/** A z-score index beyond a cut-off. Strict: exactly at the cut-off, with two decimals, is no case. */
export interface ScoreCriterion {
  readonly index: IndexId;
  readonly side: "below" | "above";
  readonly cutOff: number;
}

/** What makes a case: any of the criteria given. */
interface Definition {
  readonly score?: ScoreCriterion;
  /** Arm circumference below this, mm; ages 6 to 59 completed months only. */
  readonly armBelow?: number;
  /** True where bilateral pitting oedema makes a case by itself, and puts the child into the denominator. */
  readonly oedemaCounts: boolean;
}

const below = (index: IndexId, cutOff: number): ScoreCriterion => ({ index, side: "below", cutOff });
const above = (index: IndexId, cutOff: number): ScoreCriterion => ({ index, side: "above", cutOff });

// Cut-offs of z-scores: WHO Child Growth Standards 2006 (obesity, above +3: from memory). Arm circumference below
// 115 mm: WHO and UNICEF joint statement 2009; below 125 mm: WHO guideline on wasting and nutritional oedema 2023.
// Oedema as a case of acute malnutrition: joint statement 2009. Of underweight: common practice.
const definitions: Readonly<Record<Exclude<OutcomeId, "oedema">, Definition>> = {
  wasting: { score: below("weight-for-height", -2), oedemaCounts: false },
  "severe-wasting": { score: below("weight-for-height", -3), oedemaCounts: false },
  overweight: { score: above("weight-for-height", 2), oedemaCounts: false },
  obesity: { score: above("weight-for-height", 3), oedemaCounts: false },
  stunting: { score: below("height-for-age", -2), oedemaCounts: false },
  "severe-stunting": { score: below("height-for-age", -3), oedemaCounts: false },
  underweight: { score: below("weight-for-age", -2), oedemaCounts: true },
  "severe-underweight": { score: below("weight-for-age", -3), oedemaCounts: true },
  "acute-malnutrition-by-weight-for-height": { score: below("weight-for-height", -2), oedemaCounts: true },
  "severe-acute-malnutrition-by-weight-for-height": { score: below("weight-for-height", -3), oedemaCounts: true },
  "acute-malnutrition-by-arm-circumference": { armBelow: 125, oedemaCounts: true },
  "severe-acute-malnutrition-by-arm-circumference": { armBelow: 115, oedemaCounts: true },
  "acute-malnutrition-combined": { score: below("weight-for-height", -2), armBelow: 125, oedemaCounts: true },
  "severe-acute-malnutrition-combined": { score: below("weight-for-height", -3), armBelow: 115, oedemaCounts: true },
};

/** The z-score criterion of an outcome that rests on one index (oedema aside); null for the others. */
export function scoreCriterion(id: OutcomeId): ScoreCriterion | null {
  if (id === "oedema") return null;
  const { score, armBelow } = definitions[id];
  return armBelow === undefined ? (score ?? null) : null;
}

/** Completed months, both inclusive, in which the arm-circumference cut-offs hold. */
export const armAges = { from: 6, to: 59 } as const;

/**
 * Plausible arm circumferences, mm, both ends kept; applied under either exclusion rule. Limits around the mean z-score
 * would set aside the very children the cut-offs look for. Bilukha and Kianian, Maternal and Child Nutrition 2023;19:e13478.
 */
const armLimits: Limits = { low: 100, high: 200 };

/** For whom every criterion of a definition can be judged, and who meets at least one of them. */
interface Judged {
  readonly usable: Uint8Array;
  readonly met: Uint8Array;
}

function judgeScore(children: OutcomeInput, { index, side, cutOff }: ScoreCriterion, rule: ExclusionRule): Judged {
  const { z } = children.indices[index];
  const met = new Uint8Array(z.length);
  // One comparison for both sides: z > c is -z < -c.
  const sign = side === "below" ? 1 : -1;
  markBelow(z, sign, sign * cutOff * 100, met);
  return { usable: usable(children, index, rule), met };
}

function judgeArm({ arm, count }: OutcomeInput, armBelow: number, rule: ExclusionRule): Judged {
  const judged = { usable: new Uint8Array(count), met: new Uint8Array(count) };
  if (arm === null) return judged;
  const { values } = arm;
  const { low, high } = rule === "none" ? { low: 0, high: Number.POSITIVE_INFINITY } : armLimits;
  for (let i = 0; i < count; i++) {
    const value = values[i] as number;
    if (value > 0 && value >= low && value <= high) judged.usable[i] = 1;
  }
  markBelow(values, 1, armBelow * 100, judged.met);
  return judged;
}

function both(one: Judged, other: Judged): Judged {
  const count = one.met.length;
  const judged = { usable: new Uint8Array(count), met: new Uint8Array(count) };
  for (let i = 0; i < count; i++) {
    judged.usable[i] = (one.usable[i] as number) & (other.usable[i] as number);
    judged.met[i] = (one.met[i] as number) | (other.met[i] as number);
  }
  return judged;
}

function judge(children: OutcomeInput, { score, armBelow }: Definition, rule: ExclusionRule): Judged {
  const byScore = score === undefined ? null : judgeScore(children, score, rule);
  const byArm = armBelow === undefined ? null : judgeArm(children, armBelow, rule);
  if (byScore !== null && byArm !== null) return both(byScore, byArm);
  const only = byScore ?? byArm;
  if (only === null) throw new Error("An outcome needs a criterion.");
  return only;
}

/** Oedema itself: among the children for whom it was recorded. */
function oedemaColumns({ oedema, count }: OutcomeInput): OutcomeColumns {
  const isCase = new Uint8Array(count);
  const inDomain = new Uint8Array(count);
  if (oedema === null) return { isCase, inDomain };
  for (let i = 0; i < count; i++) {
    if (oedema[i] === 1) isCase[i] = 1;
    if (oedema[i] !== 2) inDomain[i] = 1;
  }
  return { isCase, inDomain };
}

/** Columns already made, by outcome and rule: many scenarios ask for the same of the same children. */
const known = new WeakMap<OutcomeInput, Map<string, OutcomeColumns>>();

function makeColumns(children: OutcomeInput, id: OutcomeId, rule: ExclusionRule): OutcomeColumns {
  if (id === "oedema") return oedemaColumns(children);
  const definition = definitions[id];
  const { usable: canJudge, met } = judge(children, definition, rule);
  const { count, ageDays } = children;
  const isCase = new Uint8Array(count);
  const inDomain = new Uint8Array(count);
  const oedema = definition.oedemaCounts ? children.oedema : null;
  const byAge = definition.armBelow !== undefined;
  let anyJudged = 0;
  // Ones and zeros put together by bits: a branch for each child would take several times as long.
  for (let i = 0; i < count; i++) {
    if (byAge && !withinMonths(ageDays[i] as number, armAges.from, armAges.to)) continue;
    const judged = canJudge[i] as number;
    const swollen = oedema !== null && oedema[i] === 1 ? 1 : 0;
    anyJudged |= judged;
    inDomain[i] = judged | swollen;
    isCase[i] = swollen | (judged & (met[i] as number));
  }
  return anyJudged === 1 ? { isCase, inDomain } : { isCase: isCase.fill(0), inDomain: inDomain.fill(0) };
}

/**
 * Cases and denominator of an outcome, child by child: the one place where cut-offs are applied.
 *
 * - z-scores and arm circumferences are rounded to two decimals and compared strictly: -2.00 and 125 mm are no cases.
 * - The denominator holds the children for whom every criterion can be judged: a z-score that the rule keeps; a plausible
 *   arm circumference at 6 to 59 completed months. Both are needed for the combined outcome, so that who is counted does
 *   not depend on what was found.
 * - Where oedema counts, a child with it is a case and in the denominator whatever else was measured (for arm
 *   circumference: at those ages). Oedema not recorded reads as absent.
 * - Where nobody at all can be judged the denominator is empty: cases of oedema alone are no prevalence.
 *
 * Made once for the same children, outcome and rule: the columns must not be changed.
 */
export function outcome(children: OutcomeInput, id: OutcomeId, rule: ExclusionRule): OutcomeColumns {
  const ofChildren = known.get(children) ?? new Map<string, OutcomeColumns>();
  known.set(children, ofChildren);
  const key = `${id} ${rule}`;
  const columns = ofChildren.get(key) ?? makeColumns(children, id, rule);
  ofChildren.set(key, columns);
  return columns;
}
