import { message } from "../../results/message.js";
import type { CheckResult } from "../../results/schema.js";
import type { OwnMarkup } from "../markup.js";
import { readingSign } from "../signs.js";
import type { Words } from "../words.js";
import { type FigureView, figureView } from "./figure.js";
import { groupsTable, quantitiesTable } from "./quantities.js";
import type { Citation, Citations } from "./sources.js";
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
  readonly meaning: readonly string[];
  readonly consequence: string | null;
  readonly causes: readonly string[];
  readonly actions: readonly string[];
  readonly method: readonly string[];
  readonly citations: readonly Citation[];
}

/** Figures of a check that found nothing unusual: one is enough to see that. */
const figuresWhenExpected = 1;

/** Paragraphs on method already printed, with the title of the check they stand under. */
export type EarlierMethods = Map<string, string>;

/** The paragraphs on method that no earlier check has printed; what was left out is said in one line. */
function withoutRepeats(
  check: CheckResult,
  paragraphs: readonly string[],
  earlier: EarlierMethods,
  words: Words,
): string[] {
  const fresh = paragraphs.filter((paragraph) => !earlier.has(paragraph));
  const others = new Set(paragraphs.flatMap((paragraph) => earlier.get(paragraph) ?? []));
  const title = words.text(message(`checks.${check.id}.title`));
  for (const paragraph of fresh) earlier.set(paragraph, title);
  return others.size === 0 ? fresh : [...fresh, words.text(message("check.method.as-before", { others: [...others] }))];
}

/** Figures and tables folded away on the screen and left out of print. */
export interface BehindView {
  readonly summary: string;
  /** Where print readers find the numbers. */
  readonly inFiles: string;
  readonly figures: readonly FigureView[];
  readonly tables: readonly TableView[];
}

export function behindView(
  figures: readonly FigureView[],
  tables: readonly TableView[],
  file: string,
  words: Words,
): BehindView | null {
  if (figures.length === 0 && tables.length === 0) return null;
  return {
    summary: words.text(
      message("behind.summary", {
        figures: figures.length,
        tables: tables.length,
      }),
    ),
    inFiles: words.text(message("behind.in-files", { file })),
    figures,
    tables,
  };
}

/**
 * A check that is as expected shows its finding, one figure and what it means; one that is not shows all its figures and
 * tables. Whatever is not shown is folded behind on the screen, and stands in the tables beside the report.
 */
export async function checkView(
  check: CheckResult,
  citations: Citations,
  earlier: EarlierMethods,
  words: Words,
): Promise<CheckView> {
  const figures: FigureView[] = [];
  for (const [i, chart] of check.charts.entries())
    figures.push(await figureView(chart, `${check.id}-figure-${i + 1}`, words));
  const own = check.tables.map((table, i) => tableView(table, `${check.id}-table-${i + 1}`, words));
  const tables = [quantitiesTable(check, words), ...own, groupsTable(check, words)].filter((table) => table !== null);
  const brief = check.reading === "expected";
  const shown = {
    figures: brief ? figuresWhenExpected : figures.length,
    tables: brief ? 0 : tables.length,
  };
  const texts = (messages: CheckResult["meaning"]): string[] => messages.map((each) => words.text(each));
  return {
    id: check.id,
    title: words.text(message(`checks.${check.id}.title`)),
    reading: check.reading,
    readingWord: words.text(message(`reading.${check.reading}`)),
    sign: readingSign(check.reading),
    finding: words.text(check.finding),
    figures: figures.slice(0, shown.figures),
    tables: tables.slice(0, shown.tables),
    behind: behindView(figures.slice(shown.figures), tables.slice(shown.tables), "tables/checks.csv", words),
    meaning: texts(check.meaning),
    consequence: check.consequence === undefined ? null : words.text(check.consequence),
    causes: texts(check.causes),
    actions: texts(check.actions),
    method: withoutRepeats(check, texts(check.method), earlier, words),
    citations: citations.of(check.sources),
  };
}
