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
  readonly meaning: readonly string[];
  readonly consequence: string | null;
  readonly causes: readonly string[];
  readonly actions: readonly string[];
  readonly method: readonly string[];
  readonly citations: readonly Citation[];
}

export async function checkView(check: CheckResult, citations: Citations, words: Words): Promise<CheckView> {
  const figures: FigureView[] = [];
  for (const [i, chart] of check.charts.entries())
    figures.push(await figureView(chart, `${check.id}-figure-${i + 1}`, words));
  const own = check.tables.map((table, i) => tableView(table, `${check.id}-table-${i + 1}`, words));
  const texts = (messages: CheckResult["meaning"]): string[] => messages.map((each) => words.text(each));
  return {
    id: check.id,
    title: words.text(message(`checks.${check.id}.title`)),
    reading: check.reading,
    readingWord: words.text(message(`reading.${check.reading}`)),
    sign: readingSign(check.reading),
    finding: words.text(check.finding),
    figures,
    tables: [quantitiesTable(check, words), ...own, groupsTable(check, words)].filter((table) => table !== null),
    meaning: texts(check.meaning),
    consequence: check.consequence === undefined ? null : words.text(check.consequence),
    causes: texts(check.causes),
    actions: texts(check.actions),
    method: texts(check.method),
    citations: citations.of(check.sources),
  };
}
