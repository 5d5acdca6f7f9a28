import type { Children, ExclusionRule } from "../derive/children.js";
import { takeRows } from "../derive/columns.js";
import { designOf } from "../derive/design.js";
import { type DesignGap, designShown, hidesClusters } from "../derive/design-gaps.js";
import { excluded } from "../derive/exclusions.js";
import { type OutcomeColumns, outcome } from "../derive/outcome.js";
import { bookOf, expendable, type GroupBook, type Subject } from "../disclosure/book.js";
import { type Screen, screenOf } from "../disclosure/screen.js";
import { type Grouping, groupings, groupRows } from "../disclosure/splits.js";
import { emptyCell } from "../results/empty-cell.js";
import { type GroupId, keptBack } from "../results/group.js";
import { message } from "../results/message.js";
import type { EstimateCell, EstimateResult, Message } from "../results/schema.js";
import { withholdBelow } from "../results/withhold-below.js";
import type { SurveySettings } from "../settings/settings.js";
import { confidenceLevel } from "../stats/confidence.js";
import { plannedDesignEffect, proportionInterval } from "../stats/design/interval.js";
import { raoScott } from "../stats/design/rao-scott.js";
import type { SurveyDesign } from "../stats/design/survey-design.js";
import { meanCell, prevalenceCell } from "./cell.js";
import { classify } from "./classes.js";
import type { Estimate, MeanEstimate, PrevalenceEstimate } from "./estimate.js";

const rules: readonly ExclusionRule[] = ["fixed", "around-mean", "none"];

/** A column to estimate from: cases for a prevalence, values for a mean; and who is in it. */
type Columns =
  | { readonly kind: "proportion"; readonly estimate: PrevalenceEstimate; readonly columns: OutcomeColumns }
  | {
      readonly kind: "mean";
      readonly estimate: MeanEstimate;
      readonly values: Float64Array;
      readonly inDomain: Uint8Array;
    };

function columnsFor(estimate: Estimate, children: Children, rule: ExclusionRule): Columns {
  if (estimate.kind === "proportion") {
    return { kind: "proportion", estimate, columns: outcome(children, estimate.outcome, rule) };
  }
  const values = children.indices[estimate.index].z;
  const out = excluded(children, estimate.index, rule);
  const inDomain = new Uint8Array(values.length);
  for (let i = 0; i < values.length; i++) if (!Number.isNaN(values[i]) && out[i] !== 1) inDomain[i] = 1;
  return { kind: "mean", estimate, values, inDomain };
}

const domainOf = (columns: Columns): Uint8Array =>
  columns.kind === "proportion" ? columns.columns.inDomain : columns.inDomain;

function countOf(flags: Uint8Array): number {
  let count = 0;
  for (let i = 0; i < flags.length; i++) count += flags[i] as number;
  return count;
}

function cellOf(
  columns: Columns,
  design: SurveyDesign,
  inDomain: Uint8Array,
  { label, of }: Pick<EstimateCell, "label" | "of">,
): EstimateCell {
  if (columns.kind === "mean") return meanCell({ design, inDomain, label, of, values: columns.values });
  const scheme = columns.estimate.scheme;
  return prevalenceCell({ design, inDomain, label, of, isCase: columns.columns.isCase, scheme });
}

/**
 * What is told, and of whom. Where oedema adds cases to a prevalence by weight-for-height, a group is told of only where its
 * children with a weight-for-height may be told of too, since the two figures could else be subtracted.
 */
interface Publishing {
  readonly book: GroupBook;
  readonly name: string;
  readonly subject: Subject;
  readonly beside: Screen | null;
}

function publishingOf(columns: Columns, children: Children, rule: ExclusionRule): Publishing {
  const book = bookOf(children);
  const name = nameOf(columns);
  const isCase = columns.kind === "mean" ? null : columns.columns.isCase;
  const subject = book.subject(name, domainOf(columns), { isCase, aboutHealth: true, rank: expendable.main });
  const withOedema =
    columns.kind === "proportion" && columns.estimate.outcome.endsWith("acute-malnutrition-by-weight-for-height");
  const beside = withOedema
    ? screenOf(children, outcome(children, "wasting", rule).inDomain, { aboutHealth: true })
    : null;
  return { book, name, subject, beside };
}

/** Means are told of z-scores, as the checks tell of them; prevalences of their outcome. */
const nameOf = (columns: Columns): string =>
  columns.kind === "mean" ? `z/${columns.estimate.index}` : columns.estimate.id;

function partOf(publishing: Publishing, grouping: Grouping, code: number): GroupId | null {
  const { subject, beside } = publishing;
  if (beside?.shows(grouping.key, code) === false) return null;
  const label = grouping.labels[code] ?? "";
  return subject.part(grouping.key, code, {
    by: grouping.columnName ?? grouping.by,
    label: typeof label === "string" ? label : `${code + 1}`,
  });
}

/** The same columns at some children only. */
function columnsAt(columns: Columns, rows: Int32Array): Columns {
  if (columns.kind === "proportion") {
    const { isCase, inDomain } = columns.columns;
    return { ...columns, columns: { isCase: takeRows(isCase, rows), inDomain: takeRows(inDomain, rows) } };
  }
  return { ...columns, values: takeRows(columns.values, rows), inDomain: takeRows(columns.inDomain, rows) };
}

/** 1 for the children of the estimate who are in a group large enough to be tested. */
function testedChildren(domain: Uint8Array, codes: Int32Array, isLarge: readonly boolean[]): Uint8Array {
  const tested = new Uint8Array(domain.length);
  for (let i = 0; i < domain.length; i++) {
    if (domain[i] === 1 && isLarge[codes[i] as number] === true) tested[i] = 1;
  }
  return tested;
}

/** A group that is kept back: its label too, since it could be the name of a place or a person. */
function keptBackCell({ n, clusters }: EstimateCell, number: number): EstimateCell {
  const why = n < withholdBelow ? message("cell.too-few", { limit: withholdBelow }) : message("cell.protects-another");
  return emptyCell({ label: message("group.number", { number }), of: keptBack, n, clusters }, "withheld", why);
}

function subgroup(
  columns: Columns,
  design: SurveyDesign,
  grouping: Grouping,
  publishing: Publishing,
): EstimateResult["subgroups"][number] {
  const told = grouping.labels.map((_, code) => partOf(publishing, grouping, code));
  const cells = groupRows(grouping, design).flatMap(({ rows, design: own }, code) => {
    const inGroup = columnsAt(columns, rows);
    const of = told[code] ?? null;
    const cell = cellOf(inGroup, own, domainOf(inGroup), { label: grouping.labels[code] ?? "", of: of ?? keptBack });
    if (cell.n === 0) return [];
    return [of === null ? keptBackCell(cell, code + 1) : cell];
  });
  const base = { by: grouping.by, cells };
  const named = grouping.columnName === undefined ? base : { ...base, columnName: grouping.columnName };
  if (columns.kind === "mean") return named;
  // With a group that is kept back, its cases would follow from the statistic.
  const tested = testedChildren(
    domainOf(columns),
    grouping.codes,
    told.map((of) => of !== null),
  );
  const test = raoScott(design, columns.columns.isCase, grouping.codes, grouping.labels.length, tested);
  if (!Number.isFinite(test.probability)) return named;
  const { statistic, numeratorDf, denominatorDf, probability } = test;
  return { ...named, test: { statistic, numeratorDf, denominatorDf, probability } };
}

/** The estimate under another rule of exclusion. */
function underRule(
  columns: Columns,
  design: SurveyDesign,
  rule: ExclusionRule,
  { book, name, subject }: Publishing,
  isPublished: boolean,
): EstimateCell {
  const inDomain = domainOf(columns);
  const isCase = columns.kind === "mean" ? null : columns.columns.isCase;
  const of = isPublished
    ? subject.whole
    : book.group(name, inDomain, `exclusion ${rule}`, expendable.otherRule, isCase);
  return cellOf(columns, design, inDomain, { label: message(`exclusion.${rule}`), of });
}

/** What an estimate lacks, as a message; null when it can be made. */
function lacking(estimate: Estimate, columns: Columns, children: Children): Message | null {
  if (estimate.kind === "proportion" && estimate.outcome === "oedema" && children.oedema === null) {
    return message("estimates.lacking.oedema");
  }
  if (domainOf(columns).includes(1)) return null;
  return message("estimates.lacking.measures", { estimate: message(`estimate.${estimate.id}`) });
}

/**
 * The overall interval of a prevalence as it would be with the design effect that planners assume, where the clusters are not
 * known: standard error times its square root. Where no child is a case the interval rests on that design effect anyway.
 */
function widenedOf(estimate: Estimate, cell: EstimateCell): Pick<EstimateResult, "widened"> {
  const { value, standardError, degreesOfFreedom, n, intervalMethod } = cell;
  if (estimate.kind === "mean" || intervalMethod !== "logit") return {};
  if (value === null || standardError === null || degreesOfFreedom === null) return {};
  const wider = { estimate: value, standardError: standardError * Math.sqrt(plannedDesignEffect), n, degreesOfFreedom };
  const { low, high } = proportionInterval(wider, confidenceLevel);
  const interval = { low, high, level: confidenceLevel };
  const { scheme } = estimate;
  const span =
    scheme === undefined ? [] : classify(scheme, value, wider.standardError, degreesOfFreedom, interval).span;
  return { widened: { designEffect: plannedDesignEffect, interval, span: [...span] } };
}

/** What is not known of the design behind an estimate; an odd design effect concerns only the estimates that have it. */
function unknownOf(estimate: Estimate, overall: EstimateCell, gaps: readonly DesignGap[]): Partial<EstimateResult> {
  const own = gaps.filter(
    (gap) => gap.id !== "odd-design-effect" || gap.effects.some(({ outcome: id }) => id === estimate.id),
  );
  if (own.length === 0) return {};
  return { designUnknown: own.map(({ id }) => id), ...(own.some(hidesClusters) ? widenedOf(estimate, overall) : {}) };
}

/** One estimate, overall, under each exclusion rule, and in every group. */
export function runEstimate(estimate: Estimate, children: Children, settings: SurveySettings): EstimateResult {
  const design = designOf(children, settings);
  const columns = columnsFor(estimate, children, settings.exclusions.default);
  const base = { id: estimate.id, family: estimate.family, kind: estimate.kind, sources: [...estimate.sources] };
  const reason = lacking(estimate, columns, children);
  if (reason !== null) return { ...base, reason, overall: null, byExclusion: [], subgroups: [] };
  const whole = message("estimates.all-children");
  const standing = settings.exclusions.default;
  const publishing = publishingOf(columns, children, standing);
  const widest = countOf(domainOf(columnsFor(estimate, children, "none")));
  const byExclusion = rules.map((rule) => {
    const under = rule === standing ? columns : columnsFor(estimate, children, rule);
    const cell = underRule(under, design, rule, publishing, rule === standing);
    return { rule, excluded: widest - cell.n, cell };
  });
  const overall = cellOf(columns, design, domainOf(columns), { label: whole, of: publishing.subject.whole });
  return {
    ...base,
    overall,
    ...unknownOf(estimate, overall, designShown(children, settings).gaps),
    byExclusion,
    subgroups: groupings(children).map((grouping) => subgroup(columns, design, grouping, publishing)),
  };
}
