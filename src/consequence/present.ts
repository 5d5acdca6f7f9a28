import { besideHeadline, headlineOrder } from "../results/main-estimates.js";
import { message } from "../results/message.js";
import { isConcern } from "../results/reading.js";
import type {
  Answer,
  CheckResult,
  Consequence,
  Decision,
  Message,
  RepairResult,
  ScenarioResult,
} from "../results/schema.js";
import { claimsOf } from "./claims/claims.js";
import { choicesOf, influential } from "./claims/influential.js";
import { answerHeading, answerSentence } from "./claims/sentences.js";
import { settlingOf } from "./claims/settling.js";
import { tablesOf } from "./consequence-tables.js";
import { picturesOf } from "./pictures.js";
import type { RepairRuns } from "./repairs/draw.js";
import { repairsOfChecks } from "./repairs/of-checks.js";
import type { World } from "./scenario.js";
import { assumedSpread } from "./spread.js";
import { tippingPoints } from "./tipping-points.js";

function impossible(scenarios: readonly ScenarioResult[]): Message[] {
  return scenarios.flatMap(({ label, reason }) =>
    reason === undefined ? [] : [message("consequence.not-possible", { scenario: label, reason })],
  );
}

/** Findings that nothing in the data could put right, and those whose repair did not come about here; each with its reason. */
export function withoutRepair(
  checks: readonly CheckResult[],
  repairs: readonly RepairResult[],
): Consequence["withoutRepair"] {
  return checks
    .filter(({ reading }) => isConcern(reading))
    .flatMap(({ id }) => {
      const known = repairsOfChecks[id as keyof typeof repairsOfChecks];
      if (typeof known === "string") return [{ check: id, reason: message(`repair.none.${known}`) }];
      const made = repairs.some(({ checks: own }) => own.includes(id));
      return made ? [] : [{ check: id, reason: message("repair.none.not-clear") }];
    });
}

function withoutRepairParagraph(consequence: Pick<Consequence, "withoutRepair">): Message[] {
  return consequence.withoutRepair.map(({ check, reason }) =>
    message("claims.without-repair", { check: message(`checks.${check}.title`), reason }),
  );
}

/** Whether the first page tells of the estimate; here the table does then. */
function isOnFirstPage(estimate: string, main: readonly Answer[]): boolean {
  const headline = headlineOrder.find((id) => main.some((answer) => answer.estimate === id));
  return estimate === headline || (besideHeadline as readonly string[]).includes(estimate);
}

/** The sentences of the section, from what stands in it: made anew when a reader asks about other limits. */
export function wordsOf(
  parts: Pick<Consequence, "answers" | "claims" | "repairs" | "withoutRepair" | "draws" | "scenarios">,
  decisions: readonly Decision[],
): Pick<Consequence, "heading" | "sentences" | "paragraphs"> {
  const { answers, claims, scenarios, draws } = parts;
  const main = answers.filter(({ estimate }) => claims.some((claim) => claim.estimate === estimate));
  const [first] = main;
  const error = Math.max(0, ...claims.map(({ simulationError }) => simulationError));
  const has = (kind: ScenarioResult["kind"]): boolean =>
    scenarios.some((scenario) => scenario.kind === kind && scenario.outcomes.length > 0);
  const sentences = main.map((answer) => ({ estimate: answer.estimate, message: answerSentence(answer, parts) }));
  return {
    sentences,
    heading: first === undefined ? message("claims.heading.none") : answerHeading(first, claims),
    paragraphs: [
      ...sentences.filter(({ estimate }) => !isOnFirstPage(estimate, main)).map((one) => one.message),
      ...decisions
        .filter(({ estimate }) => !answers.some((answer) => answer.estimate === estimate))
        .map(({ estimate, limit }) =>
          message("claims.asked-unknown", { estimate: message(`estimate.${estimate}`), limit }),
        ),
      ...answers.flatMap(({ note }) => note ?? []).slice(0, 1),
      message(draws === 0 ? "claims.meaning.nothing-drawn" : "claims.meaning.parts", {
        draws,
        error: Math.max(1, Math.ceil(100 * error)),
      }),
      ...withoutRepairParagraph(parts),
      ...(has("bound") ? [message("consequence.meaning.bounds")] : []),
      ...(has("sensitivity") ? [message("consequence.meaning.sensitivity", { spread: assumedSpread })] : []),
      ...impossible(scenarios),
    ],
  };
}

/** What is told of: as much of what was computed as may be. */
export interface ToldParts {
  readonly answers: readonly Answer[];
  readonly repairs: readonly RepairResult[];
  readonly scenarios: readonly ScenarioResult[];
}

/** Everything of section 7 of the report: claims, repairs, choices, what would settle it, what no data can show. */
export function present(
  world: World,
  runs: RepairRuns,
  { answers, repairs, scenarios }: ToldParts,
  decisions: readonly Decision[],
): Consequence {
  const claims = claimsOf(answers, repairs, decisions);
  // What acts would add is reckoned from the sample's own error, which is not known where the clusters are not.
  const reckoned = claims.filter(({ estimate }) =>
    answers.some((answer) => answer.estimate === estimate && answer.assumedDesignEffect === undefined),
  );
  const parts = {
    draws: runs.joint.length,
    answers: [...answers],
    claims,
    repairs: [...repairs],
    withoutRepair: withoutRepair([...world.checks.values()], repairs),
    choices: choicesOf(scenarios),
    influence: influential(world, scenarios),
    settling: settlingOf(world, runs, answers, reckoned),
    tippingPoints: tippingPoints(world, answers, reckoned),
    scenarios: [...scenarios],
  };
  const told: Consequence = {
    ...parts,
    ...wordsOf(parts, decisions),
    method: [
      "chance",
      "repairs",
      "instruments",
      "imputation",
      "absent",
      "settling",
      "influence",
      "tipping-points",
      "spread",
    ].map((part) => message(`claims.method.${part}`)),
    charts: picturesOf(world, parts),
    tables: [],
    sources: [
      "korn-graubard-1998",
      "mitchell-beauchamp-1988",
      "raiffa-schlaifer-1961",
      "dempster-1977",
      "cook-stefanski-1994",
      "crowe-2014",
      "grellety-golden-2016",
      "daily-instrument-check",
    ],
  };
  return { ...told, tables: tablesOf(told) };
}
