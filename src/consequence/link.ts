import { message } from "../results/message.js";
import { isConcern } from "../results/reading.js";
import type { CheckResult, Consequence, Message, Reading, RepairResult } from "../results/schema.js";

/** In standard errors: what a repair has to move an estimate by for its finding to cast doubt, and to need explaining. */
const moves = { doubt: 1, explain: 0.1 } as const;

interface Shift {
  readonly repair: RepairResult;
  readonly outcome: RepairResult["outcomes"][number];
}

const sizeOf = ({ outcome }: Shift): number => Math.abs(outcome.shiftInErrors ?? 0);

function largest(shifts: readonly Shift[]): Shift | undefined {
  return shifts.reduce<Shift | undefined>(
    (most, one) => (most === undefined || sizeOf(one) > sizeOf(most) ? one : most),
    undefined,
  );
}

function words({ repair, outcome }: Shift): Message {
  const values = {
    estimate: message(`estimate.${outcome.estimate}`),
    shift: Math.abs(outcome.shift),
    errors: sizeOf({ repair, outcome }),
    direction: outcome.shift >= 0 ? "up" : "down",
    repair: repair.label,
  };
  // Less than half a tenth of a point would be printed as none.
  return message(`consequence.check.${values.shift < 0.0005 ? "hardly" : "moves"}`, values);
}

/**
 * `doubt` where the repair alone moves a main estimate by one standard error or more; `explain` at most where it moves none by a
 * tenth of one; else as the check itself read it. Where the prevalence happens to lie plays no part.
 */
export function readingBy(reading: Reading, shiftInErrors: number): Reading {
  if (!isConcern(reading)) return reading;
  if (shiftInErrors >= moves.doubt) return "doubt";
  return shiftInErrors < moves.explain ? "explain" : reading;
}

/** Says of every check that found something how far putting it right moves the estimates, or why nothing could. */
export function linkChecks(
  checks: readonly CheckResult[],
  { repairs, withoutRepair }: Pick<Consequence, "repairs" | "withoutRepair">,
): CheckResult[] {
  return checks.map((check) => {
    if (!isConcern(check.reading)) return check;
    const none = withoutRepair.find(({ check: id }) => id === check.id);
    if (none !== undefined)
      return { ...check, consequence: message("consequence.check.none", { reason: none.reason }) };
    const own = repairs.filter((repair) => repair.checks.includes(check.id));
    const kept = own.find(({ reason }) => reason !== undefined);
    const shown = largest(own.flatMap((repair) => repair.outcomes.map((outcome): Shift => ({ repair, outcome }))));
    if (shown === undefined) {
      // What few children do is not told; what nothing moves by needs explaining at most.
      if (kept?.reason !== undefined)
        return { ...check, consequence: message("consequence.check.none", { reason: kept.reason }) };
      const [repair] = own;
      if (repair === undefined) return check;
      const consequence = message("consequence.check.nothing", { repair: repair.label });
      return { ...check, reading: readingBy(check.reading, 0), consequence };
    }
    return { ...check, reading: readingBy(check.reading, sizeOf(shown)), consequence: words(shown) };
  });
}
