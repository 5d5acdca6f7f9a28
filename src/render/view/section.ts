import { message } from "../../results/message.js";
import type { CheckResult, Results, Section } from "../../results/schema.js";
import type { OwnMarkup } from "../markup.js";
import { readingSign } from "../signs.js";
import type { Words } from "../words.js";
import { type CheckView, checkView, type EarlierMethods } from "./check.js";
import { childrenTables, scoresTable } from "./facts.js";
import { type Heading, type InFiles, inFiles } from "./heading.js";
import type { Citations } from "./sources.js";
import type { TableView } from "./table.js";
import type { Told } from "./told.js";

/** A section of checks: all of them in an overview, then one by one. */
export interface SectionView extends Heading, InFiles {
  readonly overview: readonly {
    readonly href: string;
    readonly title: string;
    readonly sign: OwnMarkup;
    readonly word: string;
  }[];
  readonly tables: readonly TableView[];
  readonly checks: readonly CheckView[];
}

/** The checks of a section in the order of the results; what an earlier check told is not told again. */
export function sectionView(
  heading: Heading,
  section: Section,
  results: Results,
  citations: Citations,
  earlier: EarlierMethods,
  told: Told,
  words: Words,
): SectionView {
  const mine = results.checks.filter((check) => check.section === section);
  const checks: CheckView[] = [];
  for (const check of mine) {
    const fresh = {
      ...check,
      meaning: told.fresh(check.meaning),
      tables: check.tables.map((table) => told.table(table)),
    };
    checks.push(checkView(fresh, citations, earlier, words));
  }
  const scores = section === "what" ? scoresTable(results, words) : null;
  return {
    ...heading,
    overview: mine.map((check) => overviewLine(check, words)),
    inFiles: told.once(inFiles(checks, "tables/checks.csv", words)),
    tables: section === "who" ? childrenTables(results, words) : scores === null ? [] : [scores],
    checks,
  };
}

function overviewLine(check: CheckResult, words: Words): SectionView["overview"][number] {
  return {
    href: `#${check.id}`,
    title: words.text(message(`checks.${check.id}.title`)),
    sign: readingSign(check.reading),
    word: words.text(message(`reading.${check.reading}`)),
  };
}
