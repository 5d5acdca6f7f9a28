import { message } from "../../results/message.js";
import type { EstimateResult, Results } from "../../results/schema.js";
import type { Words } from "../words.js";
import { type BehindView, behindView } from "./check.js";
import { subgroupChart } from "./estimate-charts.js";
import { findingOf, reasonsOf } from "./estimate-sentences.js";
import { meansTable, overallTable, subgroupTable } from "./estimate-tables.js";
import { type FigureView, figureView } from "./figure.js";
import { nameOver } from "./heading.js";
import type { CitationList, Citations } from "./sources.js";
import type { TableView } from "./table.js";

/** One family of estimates: heading, tables, a picture of its subgroups. */
export interface FamilyView {
  readonly id: string;
  /** What stands over the finding; null where the finding begins with it. */
  readonly name: string | null;
  readonly finding: string;
  readonly tables: readonly TableView[];
  readonly figures: readonly FigureView[];
  readonly behind: BehindView | null;
  /** Why an estimate is not there. */
  readonly reasons: readonly string[];
  readonly citations: CitationList | null;
}

/** The estimates by family, in the order in which they stand in the results. */
export function familyViews(results: Results, citations: Citations, words: Words): FamilyView[] {
  const families = [...new Set(results.estimates.map((estimate) => estimate.family))];
  const views: FamilyView[] = [];
  for (const family of families) {
    const estimates = results.estimates.filter((estimate) => estimate.family === family);
    views.push(familyView(family, estimates, citations, words));
  }
  return views;
}

function familyView(
  family: string,
  estimates: readonly EstimateResult[],
  citations: Citations,
  words: Words,
): FamilyView {
  const present = estimates.filter((estimate) => estimate.overall !== null);
  const means = present.filter((estimate) => estimate.kind === "mean");
  const shares = present.filter((estimate) => estimate.kind === "proportion");
  const tables = [
    shares.length > 0 ? overallTable(family, shares, words) : null,
    means.length > 0 ? meansTable(family, means, words) : null,
  ].filter((table) => table !== null);
  // The figure carries the same numbers; the tables serve those who cannot see it, and the file serves print.
  const byGroup = [...shares.slice(0, 1), ...means]
    .map((estimate) => subgroupTable(estimate, words))
    .filter((table) => table !== null);
  const figures: FigureView[] = [];
  const first = shares[0];
  const chart = first === undefined ? null : subgroupChart(first);
  if (chart !== null) figures.push(figureView(chart, `prevalence-${family}-figure`, words));
  const finding = findingOf(estimates, words);
  return {
    id: `prevalence-${family}`,
    name: nameOver(words.text(message(`family.${family}`)), finding),
    finding,
    tables,
    figures,
    behind: behindView([], byGroup, words),
    reasons: reasonsOf(estimates, words),
    citations: citations.of([...new Set(estimates.flatMap((estimate) => estimate.sources))]),
  };
}
