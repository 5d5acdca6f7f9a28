import type { Block, Comparison } from "../../../results/comparison.js";
import { message } from "../../../results/message.js";
import type { Words } from "../../words.js";
import type { EarlierMethods } from "../check.js";
import { type Heading, type InFiles, inFiles, namedHeading } from "../heading.js";
import type { Citations } from "../sources.js";
import { Told } from "../told.js";
import { type BlockView, blockAnchor, blockView, type SignView, signView } from "./block.js";

type Section = Comparison["sections"][number];

/** A section of the comparison: its findings in a list where there are many, then one by one. */
export interface ComparisonSectionView extends Heading, InFiles {
  readonly overview: readonly (SignView & { readonly href: string; readonly title: string })[];
  readonly blocks: readonly BlockView[];
}

/** From so many findings on, a list over them tells where to look. */
const findingsOfAList = 4;

export const sectionAnchor = (id: string): string => `compare-${id}`;

/** The findings of a section in the order of the comparison; methods told with an earlier finding are not told again. */
export function comparisonSectionView(
  section: Section,
  number: number,
  citations: Citations,
  earlier: EarlierMethods,
  words: Words,
): ComparisonSectionView {
  const blocks: BlockView[] = [];
  const told = new Told(words);
  const mine: EarlierMethods = new Map(earlier);
  for (const [i, block] of section.blocks.entries()) {
    const beside = section.id === "paired" && i > 0;
    blocks.push(blockView(withoutTold(block, told), beside, citations, mine, words));
  }
  rememberMethods(mine, section, earlier, words);
  const listed = section.blocks.length >= findingsOfAList ? section.blocks : [];
  return {
    id: sectionAnchor(section.id),
    number,
    ...namedHeading(message(`section.compare-${section.id}`), section.heading, words),
    overview: listed.map((block) => ({
      ...signView(block, words),
      href: `#${blockAnchor(block.id)}`,
      title: words.text(block.title),
    })),
    inFiles: inFiles(blocks, "tables/", words),
    blocks,
  };
}

/** Later sections name a method told here by this section too: findings of several sections are called alike. */
function rememberMethods(mine: EarlierMethods, { id }: Section, earlier: EarlierMethods, words: Words): void {
  const section = message(`section.compare-${id}`);
  for (const [paragraph, title] of mine) {
    if (earlier.has(paragraph)) continue;
    earlier.set(paragraph, words.text(message("page.compare.in-section", { section, title })));
  }
}

/** A finding without the paragraphs and notes that an earlier finding of the section told word for word. */
function withoutTold(block: Block, told: Told): Block {
  return {
    ...block,
    meaning: told.fresh(block.meaning),
    cautions: told.fresh(block.cautions),
    tables: block.tables.map((table) => told.table(table)),
  };
}
