import { message } from "../results/message.js";
import type { Consequence, Message, ScenarioResult, TippingPoint } from "../results/schema.js";
import { scenarioTable, tippingTable } from "./consequence-tables.js";
import { className, estimateName } from "./names.js";
import { picturesOf } from "./pictures.js";
import type { World } from "./scenario.js";
import { assumedSpread } from "./spread.js";
import { type Verdict, verdictMessage } from "./verdict-sentence.js";

function impossible(scenarios: readonly ScenarioResult[]): Message[] {
  return scenarios.flatMap(({ label, reason }) =>
    reason === undefined ? [] : [message("consequence.not-possible", { scenario: label, reason })],
  );
}

/**
 * What a daily check of the instruments would not have shown: the errors of all teams that change a class and yet are
 * within what such a check lets pass. Where there is none, that is said instead.
 */
function unseenErrors(tipping: readonly TippingPoint[]): Message[] {
  const all = tipping.filter((point) => point.team === null && point.criterion === "class");
  if (all.length === 0) return [];
  const unseen = all.filter((point) => point.caught === false && point.to !== null);
  if (unseen.length === 0) return [message("consequence.tipping.none-unseen")];
  return unseen.map((point) =>
    message(`consequence.tipping.unseen.${point.direction}`, {
      estimate: estimateName(point.estimate),
      instrument: message(`consequence.instruments.${point.instrument}`),
      error: message(`consequence.error.${point.unit}`, { error: point.error ?? 0 }),
      tolerance: message(`consequence.error.${point.unit}`, { error: point.tolerance }),
      value: point.valueAfter ?? 0,
      class: className(point.to ?? ""),
    }),
  );
}

/** How to read the bounds and the contested lines, where there are any. */
function explanations(scenarios: readonly ScenarioResult[]): Message[] {
  const has = (kind: ScenarioResult["kind"]): boolean =>
    scenarios.some((scenario) => scenario.kind === kind && scenario.outcomes.length > 0);
  return [
    message("consequence.meaning.chance"),
    ...(has("bound") ? [message("consequence.meaning.bounds")] : []),
    ...(has("sensitivity") ? [message("consequence.meaning.sensitivity", { spread: assumedSpread })] : []),
  ];
}

/** Turns scenarios, tipping points and verdicts into what section 7 of the report draws. */
export function present(
  world: World,
  scenarios: readonly ScenarioResult[],
  tipping: readonly TippingPoint[],
  verdicts: readonly Verdict[],
): Consequence {
  const [first, ...others] = verdicts.filter((verdict) => verdict.total > 0);
  return {
    scenarios: [...scenarios],
    tippingPoints: [...tipping],
    verdicts: [...verdicts],
    heading: first === undefined ? message("consequence.heading.no-class") : verdictMessage(first, scenarios),
    paragraphs: [
      ...others.map((one) => verdictMessage(one, scenarios)),
      ...unseenErrors(tipping),
      ...explanations(scenarios),
      ...impossible(scenarios),
    ],
    method: ["scenarios", "imputation", "missing", "spread", "tipping-points", "counting"].map((part) =>
      message(`consequence.method.${part}`),
    ),
    charts: picturesOf(world, scenarios, verdicts),
    tables: [tippingTable(tipping), scenarioTable(scenarios)],
    sources: [
      "rubin-1987",
      "barnard-rubin-1999",
      "dempster-1977",
      "cook-stefanski-1994",
      "crowe-2014",
      "grellety-golden-2016",
      "daily-instrument-check",
    ],
  };
}
