import { message } from "../../results/message.js";
import type { CheckResult, Message } from "../../results/schema.js";
import type { OwnMarkup } from "../markup.js";
import { readingSign } from "../signs.js";
import type { Words } from "../words.js";
import { type FigureView, figureView } from "./figure.js";
import { groupsTable, quantitiesTable } from "./quantities.js";
import type { CitationList, Citations } from "./sources.js";
import { type TableView, tableView } from "./table.js";

/** A check as the template draws it. */
export interface CheckView {
  readonly id: string;
  readonly title: string;
  readonly reading: string;
  readonly readingWord: string;
  readonly sign: OwnMarkup;
  readonly finding: string;
  readonly figures: readonly FigureView[];
  readonly tables: readonly TableView[];
  /** What only the screen shows, folded: the rest stands in the files beside the report. */
  readonly behind: BehindView | null;
  readonly meaning: readonly ParagraphView[];
  readonly consequence: string | null;
  readonly causes: readonly string[];
  readonly actions: readonly string[];
  /** True where there are causes or actions, which stand side by side. */
  readonly advised: boolean;
  readonly method: readonly string[];
  readonly citations: CitationList | null;
}

/** A paragraph, or several messages of one kind as a list: the same sentence about one index after the other. */
export interface ParagraphView {
  readonly list: boolean;
  readonly texts: readonly string[];
}

/** From so many sentences of one kind in a row on, they are set as a list. */
const sentencesOfAList = 3;

export function paragraphsOf(messages: readonly Message[], words: Words): ParagraphView[] {
  const runs: Message[][] = [];
  for (const each of messages) {
    const run = runs.at(-1);
    if (run !== undefined && run[0]?.id === each.id) run.push(each);
    else runs.push([each]);
  }
  return runs.flatMap((run): ParagraphView[] => {
    const texts = run.map((each) => words.text(each));
    return run.length >= sentencesOfAList
      ? [{ list: true, texts }]
      : texts.map((text) => ({ list: false, texts: [text] }));
  });
}

/** Figures of a check that found nothing unusual: one is enough to see that. */
const figuresWhenExpected = 1;

/** Paragraphs on method already printed, with the title of what they stand under. */
export type EarlierMethods = Map<string, string>;

/** The paragraphs on method that no earlier check has printed; what was left out is said in one line. */
export function withoutRepeats(
  title: string,
  paragraphs: readonly string[],
  earlier: EarlierMethods,
  words: Words,
): string[] {
  const fresh = paragraphs.filter((paragraph) => !earlier.has(paragraph));
  const others = new Set(paragraphs.flatMap((paragraph) => earlier.get(paragraph) ?? []));
  for (const paragraph of fresh) earlier.set(paragraph, title);
  if (others.size === 0) return fresh;
  const before = fresh.length === 0 ? "all-as-before" : "as-before";
  return [...fresh, words.text(message(`check.method.${before}`, { others: [...others] }))];
}

/** Figures and tables folded away on the screen and left out of print. */
export interface BehindView {
  readonly summary: string;
  readonly figures: readonly FigureView[];
  readonly tables: readonly TableView[];
}

export function behindView(
  figures: readonly FigureView[],
  tables: readonly TableView[],
  words: Words,
): BehindView | null {
  if (figures.length === 0 && tables.length === 0) return null;
  return {
    summary: words.text(
      message("behind.summary", {
        figures: figures.length,
        tables: tables.length,
        both: figures.length > 0 && tables.length > 0 ? "yes" : "no",
      }),
    ),
    figures,
    tables,
  };
}

/**
 * A check that is as expected shows its finding, one figure and what it means; one that is not shows all its figures and
 * tables. Whatever is not shown is folded behind on the screen, and stands in the tables beside the report.
 */
export function checkView(check: CheckResult, citations: Citations, earlier: EarlierMethods, words: Words): CheckView {
  const figures: FigureView[] = [];
  for (const [i, chart] of check.charts.entries())
    figures.push(figureView(chart, `${check.id}-figure-${i + 1}`, words));
  const own = check.tables.map((table, i) => tableView(table, `${check.id}-table-${i + 1}`, words));
  const tables = [quantitiesTable(check, words), ...own, groupsTable(check, words)].filter((table) => table !== null);
  const brief = check.reading === "expected";
  const shown = {
    figures: brief ? figuresWhenExpected : figures.length,
    tables: brief ? 0 : tables.length,
  };
  const title = words.text(message(`checks.${check.id}.title`));
  const texts = (messages: CheckResult["meaning"]): string[] => messages.map((each) => words.text(each));
  return {
    id: check.id,
    title,
    reading: check.reading,
    readingWord: words.text(message(`reading.${check.reading}`)),
    sign: readingSign(check.reading),
    finding: words.text(check.finding),
    figures: figures.slice(0, shown.figures),
    tables: tables.slice(0, shown.tables),
    behind: behindView(figures.slice(shown.figures), tables.slice(shown.tables), words),
    meaning: paragraphsOf(check.meaning, words),
    consequence: check.consequence === undefined ? null : words.text(check.consequence),
    causes: texts(check.causes),
    actions: texts(check.actions),
    advised: check.causes.length + check.actions.length > 0,
    method: withoutRepeats(title, texts(check.method), earlier, words),
    // Where nothing could be computed, nothing rests on a source.
    citations: check.quantities.length + check.method.length === 0 ? null : citations.of(check.sources),
  };
}
