import { message } from "../results/message.js";
import { isConcern } from "../results/reading.js";
import type { CheckResult, Consequence, Message, ScenarioResult } from "../results/schema.js";

const teamPrefix = "leave-out-team/";

const serious = (check: CheckResult): boolean => isConcern(check.reading);

/** Scenarios that follow up a check's finding; leaving out a team only where the check found something about that team. */
function scenariosOf(check: CheckResult, scenarios: readonly ScenarioResult[]): ScenarioResult[] {
  const teams = check.groups
    .filter((group) => group.by === "team" && isConcern(group.reading))
    .map((group) => group.label);
  return scenarios.filter(({ id, kind, checks }) => {
    if (kind === "sensitivity" || !checks.includes(check.id)) return false;
    return !id.startsWith(teamPrefix) || teams.includes(id.slice(teamPrefix.length));
  });
}

interface Shift {
  readonly scenario: ScenarioResult;
  readonly outcome: ScenarioResult["outcomes"][number];
}

function largest(shifts: readonly Shift[]): Shift | undefined {
  return shifts.reduce<Shift | undefined>(
    (most, one) => (most === undefined || Math.abs(one.outcome.shift) > Math.abs(most.outcome.shift) ? one : most),
    undefined,
  );
}

function words({ scenario, outcome }: Shift, consequence: Consequence): Message {
  const values = {
    estimate: message(`estimate.${outcome.estimate}`),
    shift: Math.abs(outcome.shift),
    direction: outcome.shift >= 0 ? "up" : "down",
    value: outcome.value,
    scenario: scenario.label,
  };
  if (Math.abs(outcome.shift) < 1e-12) return message("consequence.check.nothing", { scenario: scenario.label });
  if (!outcome.moves || outcome.class === null) {
    // Less than half a tenth of a point would be printed as none.
    const id = Math.abs(outcome.shift) < 0.0005 ? "consequence.check.hardly" : "consequence.check.stands";
    return message(id, values);
  }
  const from = consequence.verdicts.find((verdict) => verdict.estimate === outcome.estimate)?.class ?? "";
  const classes = { from: message(`class.${from}`), to: message(`class.${outcome.class}`) };
  return message("consequence.check.moves", { ...values, ...classes });
}

/**
 * Says of every check that found something how far it could move the estimates. Where its scenario moves a class, a check
 * that needed explaining reads `doubt`. A check that found nothing keeps its reading whatever stands near a class limit.
 */
export function linkChecks(checks: readonly CheckResult[], consequence: Consequence): CheckResult[] {
  return checks.map((check) => {
    if (!serious(check)) return check;
    const shifts = scenariosOf(check, consequence.scenarios).flatMap((scenario) =>
      scenario.outcomes.map((outcome): Shift => ({ scenario, outcome })),
    );
    const moving = largest(shifts.filter(({ outcome }) => outcome.moves));
    const shown = moving ?? largest(shifts);
    if (shown === undefined) return check;
    const linked = { ...check, consequence: words(shown, consequence) };
    return moving === undefined ? linked : { ...linked, reading: "doubt" };
  });
}
