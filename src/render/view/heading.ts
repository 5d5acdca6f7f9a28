import { message } from "../../results/message.js";
import type { Results } from "../../results/schema.js";
import type { Words } from "../words.js";
import type { BehindView } from "./check.js";

/** What stands over every section of the page. */
export interface Heading {
  readonly id: string;
  readonly number: number;
  /** Name of the section, to stand before the heading sentence; null where the sentence begins with it. */
  readonly name: string | null;
  readonly heading: string;
}

/** Where readers of the printed page find what only the screen unfolds; null where nothing is folded. */
export interface InFiles {
  readonly inFiles: string | null;
}

/** The heading of a section: what the results tell of it, or else its name. */
export function headingOf(id: string, number: number, results: Results, words: Words): Heading {
  const name = words.text(message(`section.${id}`));
  const told = id === "consequence" ? results.consequence?.heading : results.story.headings[id];
  const heading = told === undefined ? name : words.text(told);
  return { id, number, name: heading.startsWith(name) ? null : name, heading };
}

/** Says which file holds what is folded away, where any of the parts folds something. */
export function inFiles(
  parts: readonly { readonly behind: BehindView | null }[],
  file: string,
  words: Words,
): string | null {
  return parts.some(({ behind }) => behind !== null) ? words.text(message("behind.in-files", { file })) : null;
}
