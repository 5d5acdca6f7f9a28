import type { TextColumn } from "./table.js";

/** A list of whole numbers that grows by doubling. */
export class GrowingCodes {
  #codes = new Uint32Array(1024);
  #length = 0;

  push(code: number): void {
    if (this.#length === this.#codes.length) this.#widen(this.#length * 2);
    this.#codes[this.#length++] = code;
  }

  /** As many zeros. */
  pushZeros(count: number): void {
    const length = this.#length + count;
    if (length > this.#codes.length) this.#widen(Math.max(length, this.#codes.length * 2));
    this.#length = length;
  }

  #widen(length: number): void {
    const wider = new Uint32Array(length);
    wider.set(this.#codes.subarray(0, this.#length));
    this.#codes = wider;
  }

  get length(): number {
    return this.#length;
  }

  finish(): Uint32Array {
    return this.#codes.slice(0, this.#length);
  }
}

/** Collects one column: each distinct text once, a code for every row. A column that is empty so far takes no room. */
export class DictionaryColumn {
  readonly #codeOf = new Map<string, number>();
  readonly #values: string[] = [];
  #codes: GrowingCodes | null = null;
  #emptyRows = 0;
  #lastText = "";
  #lastCode = -1;

  push(cell: string): void {
    const text = cell.trim();
    if (this.#codes === null) {
      if (text === "") {
        this.#emptyRows += 1;
        return;
      }
      this.#codes = new GrowingCodes();
      if (this.#emptyRows > 0) {
        this.#codeOf.set("", 0);
        this.#values.push("");
        this.#codes.pushZeros(this.#emptyRows);
      }
    }
    // Neighbouring rows often hold the same text: a comparison is cheaper than a look-up.
    if (this.#lastCode >= 0 && text === this.#lastText) {
      this.#codes.push(this.#lastCode);
      return;
    }
    let code = this.#codeOf.get(text);
    if (code === undefined) {
      code = this.#values.length;
      this.#codeOf.set(text, code);
      this.#values.push(text);
    }
    this.#lastText = text;
    this.#lastCode = code;
    this.#codes.push(code);
  }

  /** True when no row holds any text. */
  get blank(): boolean {
    return this.#codes === null;
  }

  finish(name: string): TextColumn {
    if (this.#codes !== null) return { name, codes: this.#codes.finish(), values: this.#values };
    return { name, codes: new Uint32Array(this.#emptyRows), values: this.#emptyRows > 0 ? [""] : [] };
  }
}

/** A column that is there by name only. */
export function emptyColumn(name: string, codes: Uint32Array): TextColumn {
  return { name, codes, values: [""] };
}
