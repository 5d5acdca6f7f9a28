import type {
  SummaryCheck,
  SummaryEstimate,
  SummaryOutcome,
  SummaryScenario,
  SurveyDefinition,
  SurveySummary,
} from "../../src/compare/summary.js";
import { notStated } from "../../src/results/group.js";
import { message } from "../../src/results/message.js";
import type { EstimateCell, Quantity, Reading } from "../../src/results/schema.js";

const definition: SurveyDefinition = {
  ageFrom: 6,
  ageTo: 59,
  exclusionRule: "fixed",
  widthAroundMean: 3,
  positionRule: "age",
  weighted: false,
  finitePopulationCorrection: false,
  designUnknown: [],
};

/** A survey of 600 children in 30 clusters without estimates, checks or scenarios, except what a test gives. */
export function makeSummary(
  key: string,
  given: Partial<Omit<SurveySummary, "definition" | "estimates" | "checks">> & {
    readonly definition?: Partial<SurveyDefinition>;
    readonly estimates?: readonly SummaryEstimate[];
    readonly checks?: readonly SummaryCheck[];
  } = {},
): SurveySummary {
  const { definition: ownDefinition, estimates, checks, ...rest } = given;
  return {
    key,
    file: `${key}/results.json`,
    sha256: "0".repeat(64),
    title: key,
    population: "",
    invented: true,
    place: key,
    round: "2024-05",
    group: null,
    populationSize: null,
    clustersRevisited: false,
    firstDay: "2024-05-06",
    lastDay: "2024-05-17",
    toolVersion: "1.0.0",
    formatVersion: 2,
    definition: { ...definition, ...ownDefinition },
    children: 600,
    clusters: 30,
    strata: 1,
    estimates: new Map((estimates ?? []).map((estimate) => [estimate.id, estimate])),
    checks: new Map((checks ?? []).map((check) => [check.id, check])),
    scenarios: [],
    ...rest,
  };
}

/** A cell with a Wald interval by the normal approximation, except what a test gives. */
export function makeCell(value: number, standardError: number, given: Partial<EstimateCell> = {}): EstimateCell {
  return {
    of: notStated,
    label: message("estimates.all-children"),
    n: 600,
    clusters: 30,
    status: "shown",
    value,
    standardError,
    degreesOfFreedom: 29,
    interval: { low: value - 1.96 * standardError, high: value + 1.96 * standardError, level: 0.95 },
    intervalMethod: "logit",
    designEffect: 1.4,
    ...given,
  };
}

/** An estimate that is the same under each exclusion rule, except what a test gives by rule. */
export function makeEstimate(
  id: string,
  cell: EstimateCell | null,
  given: Partial<Omit<SummaryEstimate, "byExclusion">> & {
    readonly byExclusion?: Readonly<Record<string, EstimateCell>>;
  } = {},
): SummaryEstimate {
  const { byExclusion, ...rest } = given;
  const rules = cell === null ? {} : { fixed: cell, "around-mean": cell, none: cell, ...byExclusion };
  return {
    id,
    family: id.startsWith("mean-") ? "mean" : id,
    kind: id.startsWith("mean-") ? "mean" : "proportion",
    reason: cell === null ? message("estimates.lacking.measures", { estimate: message(`estimate.${id}`) }) : null,
    overall: cell,
    byExclusion: new Map(Object.entries(rules)),
    ...rest,
  };
}

/** A cell without a number. */
export function emptyCell(status: "withheld" | "unknown", given: Partial<EstimateCell> = {}): EstimateCell {
  const nothing = { value: null, standardError: null, degreesOfFreedom: null, interval: null, intervalMethod: null };
  return { ...makeCell(0, 0), ...nothing, designEffect: null, status, reason: message("cell.no-children"), ...given };
}

/** A check with its reading and what a test gives. */
export function makeCheck(id: string, reading: Reading, given: Partial<SummaryCheck> = {}): SummaryCheck {
  const reason = reading === "unknown" ? message("checks.unknown.needs") : null;
  return { id, reading, reason, quantities: [], rowsToCheck: 0, groups: [], ...given };
}

/** One figure of a check. */
export function makeQuantity(id: string, value: number | null, given: Partial<Quantity> = {}): Quantity {
  return { id, of: notStated, unit: "statistic", value, ...given };
}

/** A scenario with outcomes by estimate: value and standard error, 29 degrees of freedom, unless a test gives them whole. */
export function makeScenario(
  id: string,
  outcomes: Readonly<Record<string, readonly [value: number, standardError: number | null] | SummaryOutcome>>,
  given: Partial<Omit<SummaryScenario, "outcomes">> = {},
): SummaryScenario {
  const all = Object.entries(outcomes).map(([estimate, outcome]) => [estimate, outcomeOf(outcome)] as const);
  return {
    id,
    group: id.split("/")[0] ?? id,
    label: message(`scenario.${id}`),
    kind: "estimate",
    reason: null,
    outcomes: new Map(all),
    ...given,
  };
}

function outcomeOf(given: readonly [number, number | null] | SummaryOutcome): SummaryOutcome {
  if (!("length" in given)) return given;
  const [value, standardError] = given;
  const half = standardError === null ? null : 1.96 * standardError;
  return {
    value,
    low: half === null ? null : value - half,
    high: half === null ? null : value + half,
    standardError,
    degreesOfFreedom: standardError === null ? null : 29,
  };
}
