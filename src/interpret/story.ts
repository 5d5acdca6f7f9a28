import { besideHeadline, headlineOrder } from "../results/main-estimates.js";
import { message } from "../results/message.js";
import { asksFollowUp, isConcern, severity } from "../results/reading.js";
import type { CheckResult, EstimateResult, Message, Reading, Results, Section } from "../results/schema.js";

/** Everything of the results except what is made here, and what a comparison reads. */
export type Unread = Omit<Results, "story" | "comparable">;
export type Story = Results["story"];

/** Most serious first; equals stay in the order of the report. */
function bySeverity(checks: readonly CheckResult[]): CheckResult[] {
  return [...checks].sort((a, b) => severity[b.reading] - severity[a.reading]);
}

const withReading = (checks: readonly CheckResult[], reading: Reading): CheckResult[] =>
  checks.filter((check) => check.reading === reading);

const quoted = (label: Message): Message => message("story.quoted", { label });
const titleOf = (check: CheckResult): Message => quoted(message(`checks.${check.id}.title`));

function headline(estimates: readonly EstimateResult[]): EstimateResult | undefined {
  return headlineOrder
    .map((id) => estimates.find((estimate) => estimate.id === id))
    .find((estimate) => estimate?.overall?.value != null);
}

/** An estimate on fewer children than this says so in the same breath: the number below which groups are marked. */
const fewChildren = 50;

/** Gaps of the design under which no class is named: the figure hangs on a single child. */
const withholdsClass = (estimate: EstimateResult, results: Unread): boolean =>
  estimate.designUnknown?.includes("heavy-child") === true &&
  results.checks.some(({ id, reading }) => id === "sampling-weights" && reading === "doubt");

/** The estimate without its class. */
function withoutClass(estimate: EstimateResult): EstimateResult {
  if (estimate.overall === null) return estimate;
  const { classification: _, ...overall } = estimate.overall;
  return { ...estimate, overall };
}

/** The headline with what is not known of its design, right beside its interval. */
function withDesign(sentence: Message, estimate: EstimateResult, results: Unread): Message {
  const { widened } = estimate;
  const after: Readonly<Record<string, readonly Message[]>> = {
    ...(widened === undefined
      ? {}
      : { "no-clusters": [widenedSentence(widened)], "cluster-per-child": [widenedSentence(widened)] }),
    ...(withholdsClass(estimate, results) ? { "heavy-child": [message("story.class-withheld")] } : {}),
  };
  return (results.design.unknown ?? [])
    .filter(({ id }) => estimate.designUnknown?.includes(id))
    .flatMap(({ id, message: own }) => [own, ...(after[id] ?? [])])
    .reduce((before, next) => message("story.estimate.design", { estimate: before, design: next }), sentence);
}

function widenedSentence({ designEffect, interval, span }: NonNullable<EstimateResult["widened"]>): Message {
  const values = { designEffect, low: interval.low, high: interval.high };
  if (span.length === 0) return message("story.widened", values);
  return message("story.widened.classes", { ...values, classes: span.map((name) => message(`class.${name}`)) });
}

/** 'Wasting is 10.4% (8.2% to 13.0%), high by the 2019 classes; the interval also reaches medium.' */
function estimateSentence(estimate: EstimateResult): Message {
  const sentence = plainSentence(estimate);
  const cell = estimate.overall;
  // Without an interval the sentence names the number anyway.
  if (cell?.value == null || cell.interval === null || cell.n >= fewChildren) return sentence;
  return message("story.estimate.few", { estimate: sentence, n: cell.n });
}

function plainSentence(estimate: EstimateResult): Message {
  const cell = estimate.overall;
  if (cell?.value == null) return message("story.estimate.none", { estimate: message(`estimate.${estimate.id}`) });
  const base = { estimate: message(`estimate.${estimate.id}`), value: cell.value, n: cell.n };
  if (cell.interval === null) {
    return message("story.estimate.no-interval", { ...base, reason: cell.reason ?? message("cell.one-cluster") });
  }
  const numbers = { ...base, low: cell.interval.low, high: cell.interval.high };
  const classes = cell.classification;
  if (classes === undefined) return message("story.estimate.no-class", numbers);
  const named = { ...numbers, class: message(`class.${classes.at}`), scheme: message(`scheme.${classes.scheme}`) };
  const others = classes.span.filter((name) => name !== classes.at).map((name) => message(`class.${name}`));
  if (others.length === 0) return message("story.estimate.one-class", named);
  return message("story.estimate.several-classes", { ...named, others });
}

/** What can be said of an estimate and what is left open; the plain estimate where no claims were made. */
function answerOf(estimate: EstimateResult, results: Unread): Message {
  const sentence = results.consequence?.sentences.find((one) => one.estimate === estimate.id)?.message;
  const cell = estimate.overall;
  const unsaid = sentence === undefined || withholdsClass(estimate, results);
  if (unsaid || cell?.value == null || cell.interval === null) return estimateSentence(estimate);
  return cell.n < fewChildren ? message("story.estimate.few", { estimate: sentence, n: cell.n }) : sentence;
}

/** Checks in doubt that the first sentence names; a longer list says less, and the findings below name them anyway. */
const doubtsNamed = 3;

function qualitySentence(checks: readonly CheckResult[]): Message {
  const doubts = withReading(checks, "doubt");
  const explains = withReading(checks, "explain");
  const unknown = withReading(checks, "unknown");
  const counts = { checks: checks.length, doubts: doubts.length, explains: explains.length, unknown: unknown.length };
  if (unknown.length === checks.length) return message("story.quality.unknown", counts);
  if (doubts.length > doubtsNamed) {
    const named = doubts.slice(0, doubtsNamed).map(titleOf);
    return message("story.quality.doubt-several", { ...counts, names: named, more: doubts.length - named.length });
  }
  if (doubts.length > 0) return message("story.quality.doubt", { ...counts, names: doubts.map(titleOf) });
  if (explains.length > 0) return message("story.quality.explain", { ...counts, names: explains.map(titleOf) });
  return message(unknown.length > 0 ? "story.quality.expected-with-unknown" : "story.quality.expected", counts);
}

function unknownSentence(checks: readonly CheckResult[]): Message[] {
  const unknown = withReading(checks, "unknown");
  if (unknown.length === 0) return [];
  return [message("story.unknown", { count: unknown.length, names: unknown.map(titleOf) })];
}

function sectionHeading(section: Section, checks: readonly CheckResult[]): Message {
  const mine = checks.filter((check) => check.section === section);
  const doubts = withReading(mine, "doubt");
  const explains = withReading(mine, "explain");
  const unknown = withReading(mine, "unknown");
  const concerning = [...doubts, ...explains];
  if (concerning.length > 0) {
    return message(`story.heading.${section}.concern`, { count: concerning.length, names: concerning.map(titleOf) });
  }
  if (unknown.length === mine.length) return message(`story.heading.${section}.unknown`);
  if (unknown.length > 0) return message(`story.heading.${section}.partly-unknown`, { names: unknown.map(titleOf) });
  return message(`story.heading.${section}.expected`);
}

/** What to do next: the first action of every check that asks for one, the most serious first, without repeats. */
function nextSteps(checks: readonly CheckResult[], rowsToCheck: number): Message[] {
  const steps: Message[] = [];
  const seen = new Set<string>();
  for (const check of bySeverity(checks)) {
    if (!isConcern(check.reading)) continue;
    const action = check.actions[0];
    const key = JSON.stringify(action);
    if (action === undefined || seen.has(key)) continue;
    seen.add(key);
    steps.push(action);
  }
  if (rowsToCheck > 0) steps.push(message("story.next.rows", { count: rowsToCheck }));
  const nothingKnown = checks.every((check) => check.reading === "unknown");
  if (steps.length === 0) steps.push(message(nothingKnown ? "story.next.unknown" : "story.next.nothing"));
  return steps;
}

function cautions(): Message[] {
  const always = ["not-a-diagnosis", "referral", "local-protocol", "validity", "small-teams", "no-identification"];
  return always.map((id) => message(`caution.${id}`));
}

function findings(checks: readonly CheckResult[]): Story["findings"] {
  return bySeverity(checks)
    .filter((check) => isConcern(check.reading))
    .map((check) => ({ check: check.id, message: check.finding }));
}

/**
 * Decides what matters and in what order, from the results alone. Writes no words: only message ids with raw values.
 * The survey as a whole gets a sentence, never a score.
 */
export function tellStory(results: Unread): Story {
  const found = headline(results.estimates);
  const main = found !== undefined && withholdsClass(found, results) ? withoutClass(found) : found;
  const rowsToCheck = results.checks.reduce((sum, check) => sum + check.rowsToCheck, 0);
  const estimate =
    main === undefined ? message("story.estimate.nothing") : withDesign(answerOf(main, results), main, results);
  const secondary = besideHeadline
    .map((id) => results.estimates.find((candidate) => candidate.id === id))
    .filter((candidate): candidate is EstimateResult => candidate !== undefined && candidate !== found)
    .map((candidate) => (withholdsClass(candidate, results) ? withoutClass(candidate) : candidate))
    .filter((candidate) => candidate.overall?.value != null)
    .map((candidate) => answerOf(candidate, results));
  const headings: Record<string, Message> = {
    ...(main === undefined ? { prevalence: estimate } : {}),
    "follow-up": message("story.heading.to-follow-up", {
      points: results.checks.filter(asksFollowUp).length,
      count: rowsToCheck,
    }),
  };
  const consequence = results.consequence;
  if (consequence !== undefined) headings.consequence = consequence.heading;
  for (const section of ["who", "how", "what", "where"] as const)
    headings[section] = sectionHeading(section, results.checks);
  const quality = qualitySentence(results.checks);
  return {
    sentence: message("story.sentence", { estimate, quality }),
    paragraphs: [...secondary, ...unknownSentence(results.checks)],
    findings: findings(results.checks),
    next: nextSteps(results.checks, rowsToCheck),
    cautions: cautions(),
    headings,
  };
}
