import { type Children, type ExclusionRule, indexIds } from "../derive/children.js";
import { designOf } from "../derive/design.js";
import { excluded } from "../derive/exclusions.js";
import { type OutcomeColumns, outcome } from "../derive/outcome.js";
import type { SurveySettings } from "../describe/settings.js";
import { message } from "../results/message.js";
import type { EstimateCell, EstimateResult, Message } from "../results/schema.js";
import { raoScott } from "../stats/design/rao-scott.js";
import type { SurveyDesign } from "../stats/design/survey-design.js";
import { emptyCell, meanCell, prevalenceCell, withholdBelow } from "./cell.js";
import type { Estimate, MeanEstimate, PrevalenceEstimate } from "./estimate.js";
import { type Grouping, groupings } from "./groups.js";

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
  const inDomain = Uint8Array.from(values, (z, i) => (Number.isNaN(z) || out[i] === 1 ? 0 : 1));
  return { kind: "mean", estimate, values, inDomain };
}

const domainOf = (columns: Columns): Uint8Array =>
  columns.kind === "proportion" ? columns.columns.inDomain : columns.inDomain;

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
 * When exactly one group of a split is withheld, its figure could be worked out from the total and the others: then
 * the smallest of the others is withheld as well.
 */
function protectSingle(cells: readonly EstimateCell[]): EstimateCell[] {
  const withheld = cells.filter((cell) => cell.status === "withheld");
  if (withheld.length !== 1) return [...cells];
  const shown = cells.filter((cell) => cell.value !== null);
  const smallest = shown.reduce<EstimateCell | null>(
    (least, cell) => (least === null || cell.n < least.n ? cell : least),
    null,
  );
  return cells.map((cell) =>
    cell === smallest
      ? emptyCell(cell.label, cell.n, cell.clusters, "withheld", message("cell.protects-another"))
      : cell,
  );
}

function subgroup(columns: Columns, design: SurveyDesign, grouping: Grouping): EstimateResult["subgroups"][number] {
  const domain = domainOf(columns);
  const cells = grouping.labels.map((label, group) => {
    const inGroup = Uint8Array.from(domain, (inside, i) => (inside === 1 && grouping.codes[i] === group ? 1 : 0));
    return cellOf(columns, design, inGroup, label, true);
  });
  const kept = protectSingle(cells).filter((cell) => cell.n > 0);
  const base = { by: grouping.by, cells: kept };
  const named = grouping.columnName === undefined ? base : { ...base, columnName: grouping.columnName };
  if (columns.kind === "mean") return named;
  const large = cells.map((cell) => cell.n >= withholdBelow);
  const tested = Uint8Array.from(domain, (inside, i) =>
    inside === 1 && large[grouping.codes[i] ?? -1] === true ? 1 : 0,
  );
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
  const widest = domainOf(columnsFor(estimate, children, "none")).reduce((sum, inside) => sum + inside, 0);
  const byExclusion = rules.map((rule) => {
    const under = columnsFor(estimate, children, rule);
    const cell = cellOf(under, design, domainOf(under), message(`exclusion.${rule}`), false);
    return { rule, excluded: widest - cell.n, cell };
  });
  return {
    ...base,
    overall: cellOf(columns, design, domainOf(columns), whole, false),
    byExclusion,
    subgroups: groupings(children).map((grouping) => subgroup(columns, design, grouping)),
  };
}

export function indicesPresent(children: Children): readonly string[] {
  return indexIds.filter((id) => children.indices[id].z.some((z) => !Number.isNaN(z)));
}
