/** Column names that a row must hold to be taken for the header. */
const namesInHeader = 2;
/** The same where a row as full stands above it, such as the questions above the names of a form's columns. */
const namesBelowLabels = 3;
/** Rows that may stand above the header: titles, remarks, logos. */
export const rowsAbove = 50;

/** A number, a date or a time: a column's name is none. */
const valueLike = /^[-+]?\d[\d\s.,:/%-]*$/;

const filledIn = (texts: readonly string[]): readonly string[] =>
  texts.map((text) => text.trim()).filter((text) => text !== "");

/** Cells of rows that are not the header after which the search ends: titles have few, and to know a name takes its time. */
const cellsLookedAt = 2_000;

/** Looks at row after row until one is the header. */
class HeaderLook {
  /** The cells with text of the rows seen. */
  readonly #above: (readonly string[])[] = [];
  #cells = 0;

  constructor(readonly recognises: (name: string) => boolean) {}

  /** True where nothing further needs to be looked at: the first row is the header. */
  get over(): boolean {
    return this.#above.length > rowsAbove || this.#cells > cellsLookedAt;
  }

  /**
   * Whether this row is the header. It has known column names; and either every row above has fewer cells, so that none of them can
   * name this row's columns, or one as full stands above it, neither holds a value, and it is the names that are known. A
   * header with unknown names is so never passed over for a row of its data.
   */
  isHeader(texts: readonly string[]): boolean {
    const cells = filledIn(texts);
    const known = cells.filter((text) => !valueLike.test(text) && this.recognises(text)).length;
    const asFull = this.#above.filter((row) => row.length >= cells.length);
    this.#above.push(cells);
    this.#cells += cells.length;
    if (known < namesInHeader) return false;
    const [labels, another] = asFull;
    if (labels === undefined) return true;
    return (
      another === undefined &&
      known >= namesBelowLabels &&
      !labels.some(this.recognises) &&
      ![...labels, ...cells].some((text) => valueLike.test(text))
    );
  }
}

/** The place of the header among the first rows of a table; the first row where none has known names. */
export function headerPlace(rows: readonly (readonly string[])[], recognises: (name: string) => boolean): number {
  const look = new HeaderLook(recognises);
  for (const [place, texts] of rows.entries()) {
    if (look.isHeader(texts)) return place;
    if (look.over) return 0;
  }
  return 0;
}

/** Holds rows back until one is the header, and lets it and all later ones through. Rows must hold some text. */
export class HeaderSearch<Row> {
  readonly #look: HeaderLook;
  #waiting: Row[] | null = [];
  /** Rows above the header that were passed over. */
  passedOver = 0;

  constructor(
    readonly textsOf: (row: Row) => readonly string[],
    recognises: (name: string) => boolean,
  ) {
    this.#look = new HeaderLook(recognises);
  }

  /** The rows that are let through by this one: none, itself, or those held back before it and itself. */
  take(row: Row): readonly Row[] {
    const waiting = this.#waiting;
    if (waiting === null) return [row];
    waiting.push(row);
    if (this.#look.isHeader(this.textsOf(row))) {
      this.#waiting = null;
      this.passedOver = waiting.length - 1;
      return [row];
    }
    return this.#look.over ? this.finish() : [];
  }

  /** Without a header of known names, the first row with any text is one. */
  finish(): readonly Row[] {
    const waiting = this.#waiting ?? [];
    this.#waiting = null;
    return waiting;
  }
}
