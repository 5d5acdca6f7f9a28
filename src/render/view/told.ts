import type { Message, Table } from "../../results/schema.js";
import type { Words } from "../words.js";

/** What a part of the page has told already, word for word: nothing of it is told again. */
export class Told {
  readonly #words: Words;
  readonly #texts = new Set<string>();

  constructor(words: Words) {
    this.#words = words;
  }

  /** The messages that were not told before; from here on they are. */
  fresh(messages: readonly Message[]): Message[] {
    return messages.filter((each) => this.#isNew(this.#words.text(each)));
  }

  /** A table without the notes that an earlier one had under it. */
  table(table: Table): Table {
    return table.notes === undefined ? table : { ...table, notes: this.fresh(table.notes) };
  }

  /** The text where it was not told before; else null. */
  once(text: string | null): string | null {
    return text !== null && this.#isNew(text) ? text : null;
  }

  #isNew(text: string): boolean {
    const before = this.#texts.size;
    return this.#texts.add(text).size > before;
  }
}
