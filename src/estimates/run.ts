import type { Children, ExclusionRule } from "../derive/children.js";
import { designOf } from "../derive/design.js";
import { excluded } from "../derive/exclusions.js";
import { type OutcomeColumns, outcome } from "../derive/outcome.js";
import type { SurveySettings } from "../describe/settings.js";
import { message } from "../results/message.js";
import type { EstimateCell, EstimateResult, Message } from "../results/schema.js";
import { raoScott } from "../stats/design/rao-scott.js";
import type { SurveyDesign } from "../stats/design/survey-design.js";
import { emptyCell, meanCell, prevalenceCell, withholdBelow } from "./cell.js";
import { protectedGroups } from "./disclosure.js";
import type { Estimate, MeanEstimate, PrevalenceEstimate } from "./estimate.js";
import { type Grouping, groupings, groupRows } from "./groups.js";

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
  label: string | Message,
  isGroup: boolean,
): EstimateCell {
  if (columns.kind === "mean") return meanCell({ design, inDomain, label, isGroup, values: columns.values });
  const scheme = columns.estimate.scheme;
  return prevalenceCell({ design, inDomain, label, isGroup, isCase: columns.columns.isCase, scheme });
}

/**
 * The children whose number decides whether a group is too small: those of the estimate; where oedema adds cases to a
 * prevalence by weight-for-height, those with a weight-for-height, since the two figures could else be subtracted.
 */
function countedFor(columns: Columns, children: Children, rule: ExclusionRule): Uint8Array {
  const domain = domainOf(columns);
  if (columns.kind === "mean" || !columns.estimate.outcome.endsWith("acute-malnutrition-by-weight-for-height")) {
    return domain;
  }
  const { inDomain } = outcome(children, "wasting", rule);
  return domain.map((inside, i) => inside & (inDomain[i] as number));
}

/** The same columns at some children only. */
function columnsAt(columns: Columns, rows: Int32Array): Columns {
  const flags = (all: Uint8Array): Uint8Array => {
    const own = new Uint8Array(rows.length);
    for (let k = 0; k < rows.length; k++) own[k] = all[rows[k] as number] as number;
    return own;
  };
  if (columns.kind === "proportion") {
    const { isCase, inDomain } = columns.columns;
    return { ...columns, columns: { isCase: flags(isCase), inDomain: flags(inDomain) } };
  }
  const values = new Float64Array(rows.length);
  for (let k = 0; k < rows.length; k++) values[k] = columns.values[rows[k] as number] as number;
  return { ...columns, values, inDomain: flags(columns.inDomain) };
}

/** 1 for the children of the estimate who are in a group large enough to be tested. */
function testedChildren(domain: Uint8Array, codes: Int32Array, isLarge: readonly boolean[]): Uint8Array {
  const tested = new Uint8Array(domain.length);
  for (let i = 0; i < domain.length; i++) {
    if (domain[i] === 1 && isLarge[codes[i] as number] === true) tested[i] = 1;
  }
  return tested;
}

/** How many of the children in question are in each group. */
function sizesOf({ codes, labels }: Grouping, counted: Uint8Array): Float64Array {
  const sizes = new Float64Array(labels.length);
  for (let i = 0; i < codes.length; i++) {
    const code = codes[i] as number;
    if (code >= 0 && counted[i] === 1) sizes[code] = (sizes[code] as number) + 1;
  }
  return sizes;
}

function subgroup(
  columns: Columns,
  design: SurveyDesign,
  grouping: Grouping,
  counted: Uint8Array,
  isProtected: ReadonlySet<number>,
): EstimateResult["subgroups"][number] {
  const sizes = sizesOf(grouping, counted);
  const cells = groupRows(grouping, design).map(({ rows, design: own }, group) => {
    const inGroup = columnsAt(columns, rows);
    const cell = cellOf(inGroup, own, domainOf(inGroup), grouping.labels[group] ?? "", true);
    const why =
      (sizes[group] as number) < withholdBelow
        ? message("cell.too-few", { limit: withholdBelow })
        : isProtected.has(group)
          ? message("cell.protects-another")
          : null;
    if (cell.value === null || why === null) return cell;
    return emptyCell(cell.label, cell.n, cell.clusters, "withheld", why);
  });
  const kept = cells.filter((cell) => cell.n > 0);
  const base = { by: grouping.by, cells: kept };
  const named = grouping.columnName === undefined ? base : { ...base, columnName: grouping.columnName };
  if (columns.kind === "mean") return named;
  const isLarge = cells.map((cell) => cell.n >= withholdBelow);
  const tested = testedChildren(domainOf(columns), grouping.codes, isLarge);
  const test = raoScott(design, columns.columns.isCase, grouping.codes, grouping.labels.length, tested);
  if (!Number.isFinite(test.probability)) return named;
  const { statistic, numeratorDf, denominatorDf, probability } = test;
  return { ...named, test: { statistic, numeratorDf, denominatorDf, probability } };
}

/** What an estimate lacks, as a message; null when it can be made. */
function lacking(estimate: Estimate, columns: Columns, children: Children): Message | null {
  if (estimate.kind === "proportion" && estimate.outcome === "oedema" && children.oedema === null) {
    return message("estimates.lacking.oedema");
  }
  if (domainOf(columns).includes(1)) return null;
  return message("estimates.lacking.measures", { estimate: message(`estimate.${estimate.id}`) });
}

/** One estimate, overall, under each exclusion rule, and in every group. */
export function runEstimate(estimate: Estimate, children: Children, settings: SurveySettings): EstimateResult {
  const design = designOf(children, settings);
  const columns = columnsFor(estimate, children, settings.exclusions.default);
  const base = { id: estimate.id, family: estimate.family, kind: estimate.kind, sources: [...estimate.sources] };
  const reason = lacking(estimate, columns, children);
  if (reason !== null) return { ...base, reason, overall: null, byExclusion: [], subgroups: [] };
  const whole = message("estimates.all-children");
  const widest = countOf(domainOf(columnsFor(estimate, children, "none")));
  const byExclusion = rules.map((rule) => {
    const under = columnsFor(estimate, children, rule);
    const cell = cellOf(under, design, domainOf(under), message(`exclusion.${rule}`), false);
    return { rule, excluded: widest - cell.n, cell };
  });
  const counted = countedFor(columns, children, settings.exclusions.default);
  const splits = groupings(children);
  const protectedOf = protectedGroups(splits, counted);
  return {
    ...base,
    overall: cellOf(columns, design, domainOf(columns), whole, false),
    byExclusion,
    subgroups: splits.map((grouping, i) =>
      subgroup(columns, design, grouping, counted, protectedOf[i] ?? new Set<number>()),
    ),
  };
}
