import { message } from "../../results/message.js";
import type { Message, Results } from "../../results/schema.js";
import type { Words } from "../words.js";
import type { BehindView } from "./check.js";

/** What stands over every section of the page. */
export interface Heading {
  readonly id: string;
  readonly number: number;
  /** Name of the section, to stand before the heading sentence; null where the sentence begins with it. */
  readonly name: string | null;
  /** What stands between name and sentence where the two are read as one line; never seen. */
  readonly joint: string;
  readonly heading: string;
}

/** Where readers of the printed page find what only the screen unfolds; null where nothing is folded. */
export interface InFiles {
  readonly inFiles: string | null;
}

/** The heading of a section: what the results tell of it, or else its name. */
export function headingOf(id: string, number: number, results: Results, words: Words): Heading {
  const name = message(`section.${id}`);
  const told = id === "consequence" ? results.consequence?.heading : results.story.headings[id];
  return { id, number, ...namedHeading(name, told ?? name, words) };
}

/** Headings that say the section's name themselves: the name alone, and those of the sections of checks. */
const saysItsName = /^(?:section\.|story\.heading\.(?:who|how|what|where)\.)/;

/** A section's name before its heading sentence; left out where the sentence says it. */
export function namedHeading(name: Message, told: Message, words: Words): Pick<Heading, "name" | "joint" | "heading"> {
  const written = words.text(name);
  const ends = /[?!.\u061F]\]?$/.test(written) ? "closed" : "open";
  return {
    name: saysItsName.test(told.id) ? null : written,
    joint: words.text(message("heading.joint", { ends })),
    heading: words.text(told),
  };
}

/** What stands over a finding: its title, unless the finding begins with it. */
export const nameOver = (title: string, finding: string): string | null => (finding.startsWith(title) ? null : title);

/** Says which file holds what is folded away, where any of the parts folds something. */
export function inFiles(
  parts: readonly { readonly behind: BehindView | null }[],
  file: string,
  words: Words,
): string | null {
  return parts.some(({ behind }) => behind !== null) ? words.text(message("behind.in-files", { file })) : null;
}
