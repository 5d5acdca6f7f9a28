import type { Unread } from "../../src/interpret/story.js";
import { notStated } from "../../src/results/group.js";
import type { CheckResult, EstimateCell, EstimateResult, Reading, Section } from "../../src/results/schema.js";
import { anyMessage as message } from "../results/any-message.js";

/** A check with a reading and nothing else but what a test gives. */
export function check(
  id: string,
  reading: Reading,
  given: Partial<CheckResult> & { readonly section?: Section } = {},
): CheckResult {
  return {
    id,
    section: "how",
    reading,
    ...(reading === "unknown" ? { reason: message("checks.unknown.needs") } : {}),
    quantities: [],
    groups: [],
    finding: message(`finding.${id}`),
    meaning: [],
    causes: [],
    actions: [],
    method: [],
    sources: [],
    charts: [],
    tables: [],
    rowsToCheck: 0,
    ...given,
  };
}

/** The same reading in each of the four sections. */
export function inEverySection(reading: Reading): CheckResult[] {
  return (["who", "how", "what", "where"] as const).map((section) =>
    check(`${section}-${reading}`, reading, { section }),
  );
}

const fullCell: EstimateCell = {
  of: notStated,
  label: message("estimates.all-children"),
  n: 400,
  clusters: 30,
  status: "shown",
  value: 0.104,
  standardError: 0.012,
  degreesOfFreedom: 29,
  interval: { low: 0.082, high: 0.13, level: 0.95 },
  intervalMethod: "logit",
  designEffect: 1.4,
};

export function estimate(id: string, cell: Partial<EstimateCell> | null): EstimateResult {
  return {
    id,
    family: "wasting",
    kind: "proportion",
    overall: cell === null ? null : { ...fullCell, ...cell },
    byExclusion: [],
    subgroups: [],
    sources: [],
  };
}

/** A classification with this span; the estimate lies in `at`. */
export function classes(at: string, span: readonly string[]): Pick<EstimateCell, "classification"> {
  return { classification: { scheme: "who-unicef-2019", at, span: [...span], probabilities: [] } };
}

/** Results with these checks and estimates and nothing else of interest. */
export function results(
  checks: readonly CheckResult[],
  estimates: readonly EstimateResult[],
  given: Partial<Unread> = {},
): Unread {
  return {
    format: "tareline-results",
    version: 3,
    groups: [],
    tool: { name: "Tareline", version: "0" },
    madeOn: "2024-10-18",
    survey: {
      name: "small",
      title: "Small",
      population: "",
      language: "en",
      firstDay: null,
      lastDay: null,
      invented: false,
    },
    input: {
      file: "small.csv",
      bytes: 1,
      sha256: "0",
      encoding: "utf-8",
      delimiter: ",",
      settingsSha256: null,
      rowsRead: 400,
      rowsUsed: 400,
      leftOut: [],
    },
    settings: {
      title: "Small",
      name: "small",
      population: "",
      language: "en",
      invented: false,
      columns: {},
      ageRange: { from: 0, to: 59 },
      ageInMonths: "completed",
      exclusions: { default: "fixed", widthAroundMean: 3 },
      positionRule: "age",
      expectations: { boysPerGirl: 1.03, underFiveMortality: 60, growthOfBirths: 0.025 },
      clustersInPopulation: null,
      seed: 1,
    },
    notes: [],
    design: {
      clusters: 30,
      strata: 1,
      weighted: false,
      finitePopulationCorrection: false,
      degreesOfFreedom: 29,
      singleClusterStrata: 0,
      teams: null,
      days: null,
    },
    children: {
      total: 400,
      boys: 200,
      girls: 200,
      sexUnknown: 0,
      ageUnknown: 0,
      ageFromMonths: 0,
      oedema: null,
      scores: [],
    },
    checks: [...checks],
    estimates: [...estimates],
    sources: [],
    ...given,
  };
}
