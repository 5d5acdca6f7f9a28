import type { Chart, Results } from "../../results/schema.js";
import type { Words } from "../words.js";
import { type BehindView, behindView } from "./check.js";
import { type FigureView, figureView } from "./figure.js";
import type { Heading } from "./heading.js";
import type { CitationList, Citations } from "./sources.js";
import { type TableView, tableView } from "./table.js";

/** What the doubts of the report could change in its estimates. */
export interface ConsequenceView extends Heading {
  readonly paragraphs: readonly string[];
  readonly figures: readonly FigureView[];
  readonly behind: BehindView | null;
  readonly tables: readonly TableView[];
  readonly method: readonly string[];
  readonly citations: CitationList | null;
}

/** The section on consequences; null where the results have none. */
export function consequenceView(
  heading: (id: string) => Heading,
  results: Results,
  citations: Citations,
  words: Words,
): ConsequenceView | null {
  const { consequence } = results;
  if (consequence === undefined) return null;
  // The four parts of the first estimate stand open, those of the others are folded away.
  const isFolded = (chart: Chart, i: number): boolean => i > 0 && chart.kind === "intervals";
  const views = consequence.charts.map((chart, i) => figureView(chart, `consequence-figure-${i + 1}`, words));
  const figures = views.filter((_, i) => !isFolded(consequence.charts[i] as Chart, i));
  const folded = views.filter((_, i) => isFolded(consequence.charts[i] as Chart, i));
  return {
    ...heading("consequence"),
    heading: words.text(consequence.heading),
    paragraphs: consequence.paragraphs.map((paragraph) => words.text(paragraph)),
    figures,
    behind: behindView(folded, [], words),
    tables: consequence.tables.map((table, i) => tableView(table, `consequence-table-${i + 1}`, words)),
    method: consequence.method.map((line) => words.text(line)),
    citations: citations.of(consequence.sources),
  };
}
