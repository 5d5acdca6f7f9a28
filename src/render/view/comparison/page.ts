import type { Comparison } from "../../../results/comparison.js";
import { message } from "../../../results/message.js";
import type { Message } from "../../../results/schema.js";
import { comparedFiles, refusedTable } from "../../comparison-tables.js";
import { styleSheet } from "../../style.js";
import type { Words } from "../../words.js";
import type { EarlierMethods } from "../check.js";
import { type Heading, namedHeading } from "../heading.js";
import { daysMessage, type FrameView, footer, madeMessage } from "../page.js";
import { settingsTable } from "../settings.js";
import { type CitationList, Citations, type SourceView } from "../sources.js";
import { type TableView, tableView } from "../table.js";
import { type ComparisonSectionView, comparisonSectionView, sectionAnchor } from "./section.js";
import { type ComparisonSummaryView, comparisonSummaryView } from "./summary.js";

/** The whole page of a comparison as the template draws it. */
export interface ComparisonView extends FrameView {
  readonly summary: ComparisonSummaryView;
  readonly sections: readonly ComparisonSectionView[];
  /** Files that could not be used; null where there are none. */
  readonly refused: (Heading & { readonly table: TableView }) | null;
  readonly methods: Heading & ComparisonMethodsView;
}

interface ComparisonMethodsView {
  readonly paragraphs: readonly string[];
  /** The files compared, and what was set. */
  readonly tables: readonly TableView[];
  readonly sources: readonly SourceView[];
  readonly legend: CitationList["marks"];
}

export function comparisonView(comparison: Comparison, words: Words): ComparisonView {
  const citations = new Citations(comparison.sources, words);
  const earlier: EarlierMethods = new Map();
  const sections: ComparisonSectionView[] = [];
  for (const [i, section] of comparison.sections.entries())
    sections.push(comparisonSectionView(section, i + 2, citations, earlier, words));
  const names = [
    { anchor: "summary", section: "summary" },
    ...comparison.sections.map(({ id }) => ({ anchor: sectionAnchor(id), section: id as string })),
    ...(comparison.refused.length > 0 ? [{ anchor: "refused", section: "refused" }] : []),
    { anchor: "methods", section: "methods" },
  ];
  const label = (section: string): string => words.text(message(`section.compare-${section}`));
  const heading = (id: string, said: Message): Heading => ({
    id,
    number: names.findIndex((each) => each.anchor === id) + 1,
    ...namedHeading(message(`section.compare-${id}`), said, words),
  });
  const contents = names.map(({ anchor, section }, i) => ({
    href: `#${anchor}`,
    number: i + 1,
    label: label(section),
  }));
  const facts = coverFacts(comparison, words);
  const { title, invented } = comparison.comparison;
  return {
    language: words.language === "xx" ? "en" : words.language,
    direction: words.direction,
    title,
    description: words.text(comparison.story.sentence),
    kind: words.text(message("page.compare.kind")),
    style: styleSheet(words.text(title), footer(comparison, invented, words), words.direction),
    population: "",
    facts,
    invented: invented ? words.text(message("page.compare.invented")) : null,
    contents,
    summary: comparisonSummaryView(
      heading("summary", message("section.compare-summary")),
      { facts, contents: contents.map((entry) => entry.label) },
      comparison,
      words,
    ),
    sections,
    refused: refusedView(comparison, heading, words),
    methods: {
      ...heading("methods", message("section.compare-methods")),
      ...methodsView(comparison, citations, words),
    },
  };
}

function refusedView(
  comparison: Comparison,
  heading: (id: string, said: Message) => Heading,
  words: Words,
): ComparisonView["refused"] {
  const count = comparison.refused.length;
  if (count === 0) return null;
  return {
    ...heading("refused", message("page.compare.refused.heading", { count })),
    table: tableView(refusedTable(comparison), "refused-table", words),
  };
}

/** Ways of working that hold for every comparison. */
const paragraphs = ["results-only", "differences", "many", "readings"];
/** What the tables of files and the sections show already. */
const shownElsewhere = new Set(["surveys", "tiles", "title", "name"]);
const isSet = (value: unknown): boolean => value !== null && value !== undefined && value !== "";

function methodsView(comparison: Comparison, citations: Citations, words: Words): ComparisonMethodsView {
  const settings = Object.entries(comparison.settings).filter(
    ([name, value]) => !shownElsewhere.has(name) && isSet(value),
  );
  const caption = words.text(message("page.compare.settings.caption"));
  return {
    paragraphs: paragraphs.map((id) => words.text(message(`page.compare.method.${id}`))),
    tables: [
      tableView(comparedFiles(comparison, 16), "compared-files", words),
      ...(settings.length === 0
        ? []
        : [{ ...settingsTable({ settings: Object.fromEntries(settings) }, words), caption }]),
    ],
    sources: citations.all(),
    legend: citations.legend(),
  };
}

/** How many surveys, places and rounds, when and of how many children. */
function coverFacts(comparison: Comparison, words: Words): string[] {
  const { surveys } = comparison;
  const counted = (id: string, n: number): Message => message(`page.compare.${id}`, { n });
  const different = (values: readonly (string | null)[]): number =>
    new Set(values.filter((each) => each !== null)).size;
  const rounds = different(surveys.map((survey) => survey.round));
  const days = (side: "firstDay" | "lastDay"): string[] =>
    surveys
      .map((survey) => survey[side])
      .filter((day) => day !== null)
      .sort();
  const facts = [
    counted("surveys", surveys.length),
    counted("places", different(surveys.map((survey) => survey.place))),
    ...(rounds > 0 ? [counted("rounds", rounds)] : []),
    ...daysMessage(days("firstDay")[0] ?? null, days("lastDay").at(-1) ?? null, words),
    counted(
      "children",
      surveys.reduce((sum, survey) => sum + survey.children, 0),
    ),
    madeMessage(comparison, words),
  ];
  return facts.map((fact) => words.text(fact));
}
