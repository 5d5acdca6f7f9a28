import type { TextColumn } from "./table.js";

/** A list of whole numbers that grows by doubling. */
export class GrowingCodes {
  #codes = new Uint32Array(1024);
  #length = 0;

  push(code: number): void {
    if (this.#length === this.#codes.length) {
      const wider = new Uint32Array(this.#length * 2);
      wider.set(this.#codes);
      this.#codes = wider;
    }
    this.#codes[this.#length++] = code;
  }

  get length(): number {
    return this.#length;
  }

  finish(): Uint32Array {
    return this.#codes.slice(0, this.#length);
  }
}

/** Collects one column: each distinct text once, a code for every row. */
export class DictionaryColumn {
  readonly #codeOf = new Map<string, number>();
  readonly #values: string[] = [];
  readonly #codes = new GrowingCodes();
  #lastText = "";
  #lastCode = -1;

  push(cell: string): void {
    const text = cell.trim();
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
    return this.#values.every((text) => text === "");
  }

  finish(name: string): TextColumn {
    return { name, codes: this.#codes.finish(), values: this.#values };
  }
}
