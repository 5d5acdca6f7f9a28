import { withinMonths } from "./age.js";
import type { Children, ExclusionRule, IndexId } from "./children.js";
import { type Limits, usable } from "./exclusions.js";
import { hundredths } from "./rounding.js";

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
export const armLimits: Limits = { low: 100, high: 200 };

/** For whom every criterion of a definition can be judged, and who meets at least one of them. */
interface Judged {
  readonly usable: Uint8Array;
  readonly met: Uint8Array;
}

function judgeScore(children: Children, { index, side, cutOff }: ScoreCriterion, rule: ExclusionRule): Judged {
  const { z } = children.indices[index];
  const met = new Uint8Array(z.length);
  const limit = cutOff * 100;
  for (let i = 0; i < z.length; i++) {
    const value = hundredths(z[i] as number);
    if (side === "below" ? value < limit : value > limit) met[i] = 1;
  }
  return { usable: usable(children, index, rule), met };
}

function judgeArm({ arm, count }: Children, armBelow: number, rule: ExclusionRule): Judged {
  const judged = { usable: new Uint8Array(count), met: new Uint8Array(count) };
  const { low, high } = rule === "none" ? { low: 0, high: Number.POSITIVE_INFINITY } : armLimits;
  for (let i = 0; i < count; i++) {
    const value = arm?.values[i] ?? Number.NaN;
    if (value > 0 && value >= low && value <= high) judged.usable[i] = 1;
    if (hundredths(value) < armBelow * 100) judged.met[i] = 1;
  }
  return judged;
}

function both(one: Judged, other: Judged): Judged {
  return {
    usable: one.usable.map((can, i) => can & (other.usable[i] as number)),
    met: one.met.map((meets, i) => meets | (other.met[i] as number)),
  };
}

function judge(children: Children, { score, armBelow }: Definition, rule: ExclusionRule): Judged {
  const byScore = score === undefined ? null : judgeScore(children, score, rule);
  const byArm = armBelow === undefined ? null : judgeArm(children, armBelow, rule);
  if (byScore !== null && byArm !== null) return both(byScore, byArm);
  const only = byScore ?? byArm;
  if (only === null) throw new Error("An outcome needs a criterion.");
  return only;
}

/** Oedema itself: among the children for whom it was recorded. */
function oedemaColumns({ oedema, count }: Children): OutcomeColumns {
  const recorded = oedema ?? new Uint8Array(count).fill(2);
  return {
    isCase: recorded.map((code) => (code === 1 ? 1 : 0)),
    inDomain: recorded.map((code) => (code === 2 ? 0 : 1)),
  };
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
 */
export function outcome(children: Children, id: OutcomeId, rule: ExclusionRule): OutcomeColumns {
  if (id === "oedema") return oedemaColumns(children);
  const definition = definitions[id];
  const { usable: canJudge, met } = judge(children, definition, rule);
  const { count, ageDays, oedema } = children;
  const isCase = new Uint8Array(count);
  const inDomain = new Uint8Array(count);
  let anyJudged = false;
  for (let i = 0; i < count; i++) {
    if (definition.armBelow !== undefined && !withinMonths(ageDays[i] as number, armAges.from, armAges.to)) continue;
    const judged = canJudge[i] === 1;
    const swollen = definition.oedemaCounts && oedema?.[i] === 1;
    anyJudged ||= judged;
    if (judged || swollen) inDomain[i] = 1;
    if (swollen || (judged && met[i] === 1)) isCase[i] = 1;
  }
  return anyJudged ? { isCase, inDomain } : { isCase: isCase.fill(0), inDomain: inDomain.fill(0) };
}
