import { z } from "zod";
import { notStated } from "../results/group.js";
import { message } from "../results/message.js";
import { resultsParts } from "../results/schema.js";
import { upperPercentile } from "../stats/confidence.js";
import { studentQuantile } from "../stats/student-t.js";
import { comparableOf } from "./comparable.js";

/** Plain data as JSON gives it. */
export type Json = Readonly<Record<string, unknown>>;

/** The version of results.json that this program writes; the earlier ones are brought up to it. */
export const currentVersion = 3;
export const knownVersions: readonly number[] = [1, 2, currentVersion];

export function isMapping(value: unknown): value is Json {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

const logit = (share: number): number => Math.log(share / (1 - share));
const isShare = (value: unknown): value is number => typeof value === "number" && value > 0 && value < 1;
/** How far the middle of an interval may lie from its value, on the logit scale, to be taken for a logit interval. */
const mostOffCentre = 1e-6;

/**
 * Standard error behind a 95 % logit interval, turned round: se = p (1 - p) (logit(high) - logit(low)) / (2 t), with t
 * the 97.5th percentile of Student's t. Null where the interval is of another kind (not centred on the value's logit),
 * where there is none, or where the degrees of freedom are not above 0.
 *
 * Source: Korn and Graubard, Surv Methodol 1998;24:193-201 (the interval).
 */
export function errorOfLogitInterval(
  value: unknown,
  low: unknown,
  high: unknown,
  degreesOfFreedom: number,
): number | null {
  if (!isShare(value) || !isShare(low) || !isShare(high) || !(degreesOfFreedom > 0)) return null;
  const [from, to] = [logit(low), logit(high)];
  if (!(to > from) || Math.abs((from + to) / 2 - logit(value)) > mostOffCentre) return null;
  return (value * (1 - value) * (to - from)) / (2 * studentQuantile(upperPercentile, degreesOfFreedom));
}

/** Degrees of freedom of every published estimate, by its id. */
function publishedDegrees(estimates: unknown): Map<string, number> {
  const found = new Map<string, number>();
  for (const estimate of Array.isArray(estimates) ? estimates : []) {
    if (!isMapping(estimate) || !isMapping(estimate.overall) || typeof estimate.id !== "string") continue;
    const { degreesOfFreedom } = estimate.overall;
    if (typeof degreesOfFreedom === "number") found.set(estimate.id, degreesOfFreedom);
  }
  return found;
}

function migratedOutcome(outcome: unknown, degreesOf: ReadonlyMap<string, number>, otherwise: number): unknown {
  if (!isMapping(outcome)) return outcome;
  const degreesOfFreedom = degreesOf.get(String(outcome.estimate)) ?? otherwise;
  const standardError = errorOfLogitInterval(outcome.value, outcome.low, outcome.high, degreesOfFreedom);
  return { ...outcome, standardError, degreesOfFreedom: standardError === null ? null : degreesOfFreedom };
}

/**
 * Version 1 of results.json as version 2. Version 1 kept only the interval of a scenario's outcome: its standard error is
 * recovered from it with the degrees of freedom of the published estimate. Where a scenario has others (teams left out,
 * pooled imputations) that is approximate, and a note says so.
 */
function fromOneToTwo(raw: Json): Json {
  const notes = [...(Array.isArray(raw.notes) ? raw.notes : []), message("compare.migrated.errors-recovered")];
  const common = { ...raw, version: 2, notes };
  const { consequence } = raw;
  if (!isMapping(consequence) || !Array.isArray(consequence.scenarios)) return common;
  const degreesOf = publishedDegrees(raw.estimates);
  const design = isMapping(raw.design) ? raw.design.degreesOfFreedom : null;
  const otherwise = typeof design === "number" ? design : Number.NaN;
  const scenarios = consequence.scenarios.map((scenario: unknown) => {
    if (!isMapping(scenario) || !Array.isArray(scenario.outcomes)) return scenario;
    return { ...scenario, outcomes: scenario.outcomes.map((one) => migratedOutcome(one, degreesOf, otherwise)) };
  });
  return { ...common, consequence: { ...consequence, scenarios } };
}

/** Applies a change to every entry of a list, and leaves anything else alone. */
const each = (list: unknown, change: (entry: Json) => Json): unknown =>
  Array.isArray(list) ? list.map((entry: unknown) => (isMapping(entry) ? change(entry) : entry)) : list;

const within = (part: Json, name: string, change: (list: unknown) => unknown): Json =>
  name in part ? { ...part, [name]: change(part[name]) } : part;

const stated = (entry: Json): Json => ({ of: notStated, ...entry });

/** Kinds of charts whose rows or panels speak of children. */
function statedChart(chart: Json): Json {
  if (chart.kind === "counts-over") return stated(chart);
  const named = ["category-shares", "z-distribution", "intervals", "prevalence-bands", "lines"];
  if (!named.includes(String(chart.kind))) return chart;
  const panels = (list: unknown) => each(list, (panel) => within(stated(panel), "points", (of) => each(of, stated)));
  return within(
    within(chart, "rows", (list) => each(list, stated)),
    "panels",
    panels,
  );
}

const statedPictures = (part: Json): Json =>
  within(
    within(part, "charts", (list) => each(list, statedChart)),
    "tables",
    (list) => each(list, stated),
  );

/** A check, without what it said of the scenario that follows it up: that was told by the class it moved. */
function statedCheck(check: Json): Json {
  const quantities = (part: Json): Json => within(part, "quantities", (list) => each(list, stated));
  const groups = (list: unknown) => each(list, (group) => quantities(stated(group)));
  const { consequence: _, ...plain } = check;
  return statedPictures(within(quantities(plain), "groups", groups));
}

const statedCell = (cell: unknown): unknown => (isMapping(cell) ? stated(cell) : cell);

function statedEstimate(estimate: Json): Json {
  const rules = (list: unknown) => each(list, (rule) => within(rule, "cell", statedCell));
  const splits = (list: unknown) => each(list, (split) => within(split, "cells", (cells) => each(cells, stated)));
  return within(within(within(estimate, "overall", statedCell), "byExclusion", rules), "subgroups", splits);
}

/** What was said of the count of scenarios in which a class stands: no longer said, since it was read as a chance. */
const counted = (said: unknown): boolean =>
  isMapping(said) && /^(consequence\.(verdict|heading|tipping|meaning\.chance)|story\.stands)/.test(String(said.id));

/** Claims are not in earlier versions: the lists stay empty, and what was told of the count of scenarios goes. */
function statedConsequence(consequence: unknown): unknown {
  if (!isMapping(consequence)) return consequence;
  const { verdicts: _, tippingPoints: __, ...rest } = consequence;
  const scenarios = (list: unknown) =>
    each(list, (scenario) => within(scenario, "outcomes", (outcomes) => each(outcomes, stated)));
  const plain = (list: unknown) => (Array.isArray(list) ? list.filter((one) => !counted(one)) : list);
  const charts = (list: unknown) =>
    Array.isArray(list) ? list.filter((chart: unknown) => isMapping(chart) && chart.kind !== "scenarios") : list;
  const tables = (list: unknown) => (Array.isArray(list) ? [] : list);
  const told = within(
    within(within(within(rest, "scenarios", scenarios), "paragraphs", plain), "charts", charts),
    "tables",
    tables,
  );
  const none = { answers: [], claims: [], sentences: [], repairs: [], withoutRepair: [], choices: [], influence: [] };
  return statedPictures({
    ...told,
    ...none,
    ...{ draws: 0, settling: [], tippingPoints: [], method: [], heading: message("claims.heading.earlier") },
  });
}

/** The first sentence and paragraphs without the count of scenarios. */
function plainStory(story: unknown): unknown {
  if (!isMapping(story)) return story;
  const plain = (said: unknown): unknown => {
    if (!isMapping(said) || !isMapping(said.values)) return said;
    if (said.id === "story.sentence.with-consequence") {
      const { estimate, quality } = said.values;
      return { id: "story.sentence", values: { estimate, quality } };
    }
    return said.id === "story.secondary" ? said.values.estimate : said;
  };
  const headings = isMapping(story.headings)
    ? {
        ...story.headings,
        ...("consequence" in story.headings ? { consequence: message("claims.heading.earlier") } : {}),
      }
    : story.headings;
  return {
    ...story,
    headings,
    sentence: plain(story.sentence),
    paragraphs: Array.isArray(story.paragraphs) ? story.paragraphs.map(plain) : story.paragraphs,
  };
}

/** Version 2 did not say which children its numbers speak of, was not audited, and made no claims; notes say so. */
function withGroups(raw: Json): Json {
  const notes = [
    ...(Array.isArray(raw.notes) ? raw.notes : []),
    message("compare.migrated.groups-not-stated"),
    ...("consequence" in raw ? [message("compare.migrated.no-claims")] : []),
  ];
  const checks = (list: unknown) => each(list, statedCheck);
  const estimates = (list: unknown) => each(list, statedEstimate);
  const parts = within(within(within(raw, "checks", checks), "estimates", estimates), "consequence", statedConsequence);
  const told = within(parts, "story", plainStory);
  return { ...told, groups: [], notes };
}

/**
 * Version 2 as version 3: the groups stand as not stated, and what a comparison needs is gathered in a section of its own.
 * Where the parts it is gathered from do not hold together there is none, and the first part that is wrong is named when the
 * file is checked.
 */
function fromTwoToThree(raw: Json): Json {
  const told = withGroups(raw);
  const parts = comparedParts.safeParse(told);
  return { ...told, version: 3, ...(parts.success ? { comparable: comparableOf(parts.data) } : {}) };
}

const comparedParts = z.object(
  resultsParts.pick({
    survey: true,
    input: true,
    settings: true,
    design: true,
    children: true,
    checks: true,
    estimates: true,
    consequence: true,
  }).shape,
);

/** Results of an earlier version as the current one; anything else is returned as it is. */
export function migrated(raw: unknown): unknown {
  if (!isMapping(raw) || raw.format !== "tareline-results") return raw;
  if (raw.version === 1) return fromTwoToThree(fromOneToTwo(raw));
  return raw.version === 2 ? fromTwoToThree(raw) : raw;
}
