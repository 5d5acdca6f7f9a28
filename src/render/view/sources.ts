import { message } from "../../results/message.js";
import type { Source } from "../../results/schema.js";
import { anchor } from "../markup.js";
import type { Words } from "../words.js";

/** A source as it is named where it is used. */
export interface Citation {
  readonly href: string;
  readonly number: number;
  /** First author and year, taken from the reference. */
  readonly short: string;
  /** Set where the source was not fully read. */
  readonly doubt: string | null;
}

export interface SourceView {
  readonly id: string;
  readonly number: number;
  readonly reference: string;
  readonly status: string;
}

/** Numbers the sources in the order of the results. */
export class Citations {
  readonly #numbers = new Map<string, number>();

  constructor(
    private readonly sources: readonly Source[],
    private readonly words: Words,
  ) {
    for (const [i, source] of sources.entries()) this.#numbers.set(source.id, i + 1);
  }

  /** Those of the named sources that the results carry. */
  of(ids: readonly string[]): Citation[] {
    return this.sources
      .filter((source) => ids.includes(source.id))
      .map((source) => ({
        href: `#${this.#anchor(source)}`,
        number: this.#numbers.get(source.id) ?? 0,
        short: shortReference(source.reference),
        doubt:
          source.status === "confirmed" || source.status === "computed"
            ? null
            : this.words.text(message(`source.short.${source.status}`)),
      }));
  }

  all(): SourceView[] {
    return this.sources.map((source, i) => ({
      id: this.#anchor(source),
      number: i + 1,
      reference: source.reference,
      status: this.words.text(message(`source.status.${source.status}`)),
    }));
  }

  #anchor(source: Source): string {
    return `source-${anchor(source.id)}`;
  }
}

/** 'Author, year' of a full reference, or its beginning. */
export function shortReference(reference: string): string {
  const author = (reference.split(/\. |, (?=[A-Z][a-z]+ [A-Z]{1,2}\b)/)[0] ?? reference).trim();
  const years = reference.match(/\b(19|20)\d\d\b/g);
  const start = author.length > 64 ? `${author.slice(0, 60).replace(/\s+\S*$/, "")}\u2026` : author;
  const year = years?.at(-1);
  return year === undefined || start.includes(year) ? start : `${start}, ${year}`;
}
