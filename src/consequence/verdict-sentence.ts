import { message } from "../results/message.js";
import type { Consequence, Message, ScenarioResult } from "../results/schema.js";
import { className, estimateName } from "./names.js";

export type Verdict = Consequence["verdicts"][number];

/** Movers named in a sentence; the picture and the table hold all. */
const mostNamed = 4;

/** A scenario that moves the class, with the class it moves it to. */
function moverMessage(verdict: Verdict, id: string, scenarios: readonly ScenarioResult[]): Message {
  const scenario = scenarios.find((one) => one.id === id);
  const outcome = scenario?.outcomes.find((one) => one.estimate === verdict.estimate);
  const label = scenario?.label ?? message(`scenario.${id}`);
  return outcome?.class == null
    ? label
    : message("consequence.mover", { scenario: label, class: className(outcome.class) });
}

/** What a reader should hear of first: what a finding leads to, then parts of the survey left out, single days and bounds last. */
export function placeInSentence(id: string, scenarios: readonly ScenarioResult[]): number {
  const kind = scenarios.find((one) => one.id === id)?.kind;
  if (kind === "bound") return 4;
  const places: readonly (readonly [string, number])[] = [
    ["leave-out-team/", 1],
    ["leave-out-cluster/", 2],
    ["leave-out-day/", 3],
  ];
  return places.find(([start]) => id.startsWith(start))?.[1] ?? 0;
}

/** In how many scenarios the class stands, and which move it where. */
export function verdictMessage(verdict: Verdict, scenarios: readonly ScenarioResult[]): Message {
  const values = {
    estimate: estimateName(verdict.estimate),
    class: className(verdict.class),
    scheme: message(`scheme.${verdict.scheme}`),
    stands: verdict.stands,
    total: verdict.total,
  };
  const moved = verdict.movers.length;
  if (moved === 0) return message("consequence.verdict.stands", values);
  const movers = verdict.movers.slice(0, mostNamed).map((id) => moverMessage(verdict, id, scenarios));
  return message("consequence.verdict.moved", { ...values, moved, movers, more: moved - movers.length });
}
