import { message } from "../../results/message.js";
import type { Source } from "../../results/schema.js";
import { anchor } from "../markup.js";
import type { Words } from "../words.js";

/** A source as it is named where it is used. */
export interface Citation {
  readonly href: string;
  readonly number: number;
  /** First author and year, or a short name. */
  readonly short: string;
  /** Mark of a source that was not fully read; empty for one that was. */
  readonly mark: string;
}

/** The sources of one check or section, with every mark among them explained once. */
export interface CitationList {
  readonly items: readonly Citation[];
  readonly marks: readonly { readonly mark: string; readonly meaning: string }[];
}

export interface SourceView {
  readonly id: string;
  /** The reference as printed by its publisher; a sentence in the report's language where the source is our own. */
  readonly reference: string;
  /** True where the reference is not in the report's language. */
  readonly foreign: boolean;
  /** What was taken from it, or how far it was read; null where nothing needs saying. */
  readonly note: string | null;
  /** Said in words where no mark says it. */
  readonly status: string | null;
  readonly mark: string;
}

/** Marks of sources that were not read, or not in full. What was read, or worked out here, bears none. */
const markOf: Readonly<Partial<Record<Source["status"], string>>> = {
  memory: "*",
  partly: "\u2020",
  practice: "\u2021",
};

/** Numbers the sources in the order of the results. */
export class Citations {
  readonly #numbers = new Map<string, number>();

  constructor(
    private readonly sources: readonly Source[],
    private readonly words: Words,
  ) {
    for (const [i, source] of sources.entries()) this.#numbers.set(source.id, i + 1);
  }

  /** Those of the named sources that the results carry; null when there are none. */
  of(ids: readonly string[]): CitationList | null {
    const named = this.sources.filter((source) => ids.includes(source.id));
    if (named.length === 0) return null;
    return {
      items: named.map((source) => ({
        href: `#${this.#anchor(source)}`,
        number: this.#numbers.get(source.id) ?? 0,
        short: this.#name(source),
        mark: markOf[source.status] ?? "",
      })),
      marks: this.#marks(named, "short"),
    };
  }

  all(): SourceView[] {
    return this.sources.map((source) => ({
      id: this.#anchor(source),
      ...this.#reference(source),
      note: this.#said("note", source),
      status: source.status === "computed" ? this.words.text(message("source.status.computed")) : null,
      mark: markOf[source.status] ?? "",
    }));
  }

  /** What every mark in the list of all sources means, in full. */
  legend(): CitationList["marks"] {
    return this.#marks(this.sources, "status");
  }

  #marks(sources: readonly Source[], family: "short" | "status"): CitationList["marks"] {
    return (["memory", "partly", "practice"] as const)
      .filter((status) => sources.some((source) => source.status === status))
      .map((status) => ({
        mark: markOf[status] ?? "",
        meaning: this.words.text(message(`source.${family}.${status}`)),
      }));
  }

  /** A name from the words where there is one: own computations and documents without an author have no 'author, year'. */
  #name(source: Source): string {
    const id = `source.name.${source.id}`;
    return this.words.has(id) ? this.words.text(message(id)) : shortReference(source.reference);
  }

  /** Where the source has words of its own, it is no publication but our own computation, judgement or a custom. */
  #reference(source: Source): Pick<SourceView, "reference" | "foreign"> {
    const own = this.#said("text", source);
    const english = this.words.language === "en" || this.words.language === "xx";
    return own === null ? { reference: source.reference, foreign: !english } : { reference: own, foreign: false };
  }

  #said(family: "note" | "text", source: Source): string | null {
    const id = `source.${family}.${source.id}`;
    return this.words.has(id) ? this.words.text(message(id)) : null;
  }

  #anchor(source: Source): string {
    return `source-${anchor(source.id)}`;
  }
}

/** 'Author, year' of a full reference, or its beginning. The year is the first one: later ones may be pages or further works. */
export function shortReference(reference: string): string {
  const author = (reference.split(/\. |, (?=[A-Z][a-z]+ [A-Z]{1,2}\b)/)[0] ?? reference).trim();
  const year = reference.match(/\b(19|20)\d\d\b/)?.[0];
  const start = author.length > 64 ? `${author.slice(0, 60).replace(/\s+\S*$/, "")}\u2026` : author;
  return year === undefined || start.includes(year) ? start : `${start}, ${year}`;
}
