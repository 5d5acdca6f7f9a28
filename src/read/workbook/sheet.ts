import { type Archive, brokenFile } from "../archive.js";
import { HeaderSearch } from "../header-row.js";
import { isKept, limitsOf, type ReadOptions } from "../options.js";
import type { Part } from "../part.js";
import { InputError, type InputProblem, inputProblem, RowProblems } from "../problem.js";
import { placeName } from "../table.js";
import { TableBuilder } from "../table-builder.js";
import { cellAddress, cellText } from "./cell.js";
import type { SheetEntry, WorkbookContents } from "./contents.js";
import { readXml } from "./xml.js";

/** A row of the sheet: its texts that are not empty, and beside each its column. */
interface SheetRow {
  readonly number: number;
  readonly columns: readonly number[];
  readonly texts: readonly string[];
}

/** Passes rows on from the header on. */
class HeaderFinder {
  readonly search: HeaderSearch<SheetRow>;
  /** Places for cells taken up so far, those that a row leaves out included. */
  #places = 0;

  constructor(
    readonly builder: TableBuilder,
    recognises: (name: string) => boolean,
    readonly mostPlaces: number,
  ) {
    this.search = new HeaderSearch(({ texts }) => texts, recognises);
  }

  take(row: SheetRow): void {
    if (row.texts.every((text) => text.trim() === "")) return;
    for (const passed of this.search.take(row)) this.#pass(passed);
  }

  finish(): void {
    for (const passed of this.search.finish()) this.#pass(passed);
  }

  /** Cells that a sheet leaves out are empty; the builder is told of every one of the header's columns. */
  #pass({ number, columns, texts }: SheetRow): void {
    const width = Math.max((columns.at(-1) ?? -1) + 1, this.builder.columns.length);
    this.#places += width;
    if (this.#places > this.mostPlaces) {
      const details = { what: "cells", limit: this.mostPlaces };
      throw new InputError([inputProblem("file-too-large", this.builder.place, { details })]);
    }
    const record = new Array<string>(width).fill("");
    columns.forEach((column, i) => {
      record[column] = texts[i] ?? "";
    });
    this.builder.take(record, number);
  }
}

/** Goes through a sheet's XML and collects its rows (ECMA-376 Part 1, 18.3). */
class SheetReader {
  readonly rows: HeaderFinder;
  readonly builder: TableBuilder;
  readonly merged: string[] = [];
  readonly unfinished: { row: number; column: number }[] = [];
  hiddenRows = 0;
  #row = 0;
  #columns: number[] = [];
  #texts: string[] = [];
  #column = -1;
  #cell = { type: "n", style: 0, value: "", formula: false, valued: false };
  #inValue = false;

  constructor(
    readonly archive: Archive,
    readonly contents: WorkbookContents,
    place: string,
    readonly options: ReadOptions,
  ) {
    this.builder = new TableBuilder(place, (column) => isKept(options, column), limitsOf(options));
    this.rows = new HeaderFinder(this.builder, options.recognises ?? (() => false), limitsOf(options).sheetCells);
  }

  open(name: string, attribute: (name: string) => string | undefined): void {
    if (name === "row") this.#openRow(attribute("r"), attribute("hidden"));
    else if (name === "c") this.#openCell(attribute("r"), attribute("t"), attribute("s"));
    else if (name === "v" || name === "t") this.#inValue = true;
    else if (name === "f") this.#cell.formula = true;
    else if (name === "mergeCell") this.#remember(this.merged, attribute("ref") ?? "");
  }

  close(name: string): void {
    if (name === "v" || name === "t") {
      this.#inValue = false;
      this.#cell.valued = true;
    } else if (name === "c") this.#closeCell();
    else if (name === "row") this.#closeRow();
  }

  text(text: string): void {
    if (this.#inValue) this.#cell.value += text;
  }

  /** Lists what is looked at once the sheet is read; one without end is refused. */
  #remember<One>(list: One[], one: One): void {
    const limit = limitsOf(this.options).texts;
    if (list.push(one) <= limit) return;
    throw new InputError([inputProblem("file-too-large", this.builder.place, { details: { what: "cells", limit } })]);
  }

  #openRow(number: string | undefined, hidden: string | undefined): void {
    const row = number === undefined ? this.#row + 1 : Number(number);
    const { sheetRows } = limitsOf(this.options);
    if (!Number.isInteger(row) || row <= this.#row || row > sheetRows) throw brokenFile(this.archive.place, "xlsx");
    this.#row = row;
    this.#column = -1;
    this.#columns = [];
    this.#texts = [];
    if (hidden === "1" || hidden === "true") this.hiddenRows += 1;
  }

  #closeRow(): void {
    this.rows.take({ number: this.#row, columns: this.#columns, texts: this.#texts });
  }

  #openCell(address: string | undefined, type = "n", style = "0"): void {
    const column = address === undefined ? this.#column + 1 : (cellAddress(address)?.column ?? -1);
    if (column <= this.#column || column >= limitsOf(this.options).sheetColumns) {
      throw brokenFile(this.archive.place, "xlsx");
    }
    this.#column = column;
    this.#cell = { type, style: Number(style), value: "", formula: false, valued: false };
  }

  #closeCell(): void {
    const { formula, valued, type, value } = this.#cell;
    // A formula may give an empty text; an empty number was never worked out.
    const isEmpty = !valued || (type !== "str" && value === "");
    if (type === "s" && value !== "" && this.contents.texts[Number(value)] === undefined) {
      throw brokenFile(this.archive.place, "xlsx");
    }
    if (formula && isEmpty) this.#remember(this.unfinished, { row: this.#row, column: this.#column });
    const text = cellText(this.#cell, this.contents);
    if (text === "") return;
    this.#columns.push(this.#column);
    this.#texts.push(text);
  }
}

/** Formulas that were never worked out: their cells would pass for empty ones. */
function formulaProblems({ unfinished, builder }: SheetReader): InputProblem[] {
  const found = new RowProblems();
  for (const { row, column } of unfinished) {
    if (row < builder.headerRow || !builder.keeps(column)) continue;
    const name = builder.header?.[column] ?? "";
    found.add(() => inputProblem("formula-without-value", builder.place, { row, column: name }));
  }
  return found.list();
}

/** For every place of the header, the first place from there on whose cells are kept; beyond the last there is none. */
function nextKept({ builder }: SheetReader): number[] {
  const next = new Array<number>(builder.header?.length ?? 0).fill(Number.POSITIVE_INFINITY);
  for (let i = next.length - 1; i >= 0; i--) next[i] = builder.keeps(i) ? i : (next[i + 1] ?? Number.POSITIVE_INFINITY);
  return next;
}

/** Cells merged down over several rows of data: only the first row holds the value. */
function mergedProblems(reader: SheetReader): InputProblem[] {
  const { merged, builder } = reader;
  const next = nextKept(reader);
  const found = new RowProblems();
  for (const ref of merged) {
    const [from, to] = ref.split(":").map(cellAddress);
    if (from == null || to == null || to.row <= builder.headerRow) continue;
    if ((next[from.column] ?? Number.POSITIVE_INFINITY) > to.column) continue;
    found.add(() => inputProblem("merged-cells", builder.place, { row: Math.max(1, from.row), value: ref }));
  }
  return found.list();
}

/** Reads one sheet as a table, with what is wrong with it beside it. */
export async function readSheet(
  archive: Archive,
  contents: WorkbookContents,
  sheet: SheetEntry,
  options: ReadOptions,
): Promise<Part> {
  const place = placeName(archive.place, sheet.name);
  const reader = new SheetReader(archive, contents, place, options);
  await readXml(archive, sheet.path, {
    open: (name, attribute) => reader.open(name, attribute),
    close: (name) => reader.close(name),
    text: (text) => reader.text(text),
  });
  reader.rows.finish();
  const { builder } = reader;
  return {
    name: sheet.name,
    place,
    encoding: "utf-8",
    delimiter: "none",
    headerRow: builder.headerRow,
    rowsAbove: reader.rows.search.passedOver,
    hiddenRows: reader.hiddenRows,
    columns: builder.finish(),
    rowCount: builder.sheetRow.length,
    sheetRow: builder.sheetRow.finish(),
    problems: [...builder.problems(), ...formulaProblems(reader), ...mergedProblems(reader)],
  };
}
