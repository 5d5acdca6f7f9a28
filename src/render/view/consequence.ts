import { message } from "../../results/message.js";
import type { Message, Results } from "../../results/schema.js";
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

/** So many scenarios a paragraph of the section on consequences names. */
const namedInParagraph = 4;

/** A verdict that names the scenarios is too long for a heading: the heading then counts them, a paragraph names them. */
function consequenceHeading(heading: Message): { readonly told: Message; readonly rest: readonly Message[] } {
  if (heading.id !== "consequence.verdict.moved") return { told: heading, rest: [] };
  return { told: message("consequence.heading.moved", heading.values), rest: [heading] };
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
  const { told, rest } = consequenceHeading(consequence.heading);
  // An estimate whose class few scenarios move needs no page of its own, since the paragraphs name them all; at least the
  // first one is always shown.
  const moved = new Set(
    consequence.verdicts.filter(({ movers }) => movers.length > namedInParagraph).map(({ estimate }) => estimate),
  );
  const figures: FigureView[] = [];
  const folded: FigureView[] = [];
  for (const [i, chart] of consequence.charts.entries()) {
    const unmoved = i > 0 && chart.kind === "scenarios" && !moved.has(chart.estimate);
    (unmoved ? folded : figures).push(figureView(chart, `consequence-figure-${i + 1}`, words));
  }
  return {
    ...heading("consequence"),
    heading: words.text(told),
    paragraphs: [...rest, ...consequence.paragraphs].map((paragraph) => words.text(paragraph)),
    figures,
    behind: behindView(folded, [], words),
    tables: consequence.tables.map((table, i) => tableView(table, `consequence-table-${i + 1}`, words)),
    method: consequence.method.map((line) => words.text(line)),
    citations: citations.of(consequence.sources),
  };
}
