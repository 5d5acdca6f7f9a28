import { DictionaryColumn, emptyColumn, GrowingCodes } from "./dictionary.js";
import type { Limits } from "./limits.js";
import { InputError, type InputProblem, inputProblem, RowProblems } from "./problem.js";
import type { TextColumn } from "./table.js";

/** Rows of another length than the header after which nothing more is read: a table it is not. */
const mostUneven = 20_000;

/** Takes records one by one: the first that isn't blank is the header, every later one a row of data. */
export class TableBuilder {
  header: readonly string[] | null = null;
  /** Row that holds the header; 0 before there is one. */
  headerRow = 0;
  columns: DictionaryColumn[] = [];
  /** Places of the columns whose cells are kept. */
  kept: number[] = [];
  readonly sheetRow = new GrowingCodes();
  readonly uneven = new RowProblems();

  constructor(
    /** The file, with the table's name if it has one, for messages. */
    readonly place: string,
    /** Whether the cells of a column are kept. */
    readonly wants: (name: string) => boolean,
    readonly limits: Limits,
  ) {}

  /** `row` is the record's number as a spreadsheet shows it. */
  take(record: readonly string[], row: number): void {
    if (record.every((cell) => cell.trim() === "")) return;
    if (this.header === null) {
      this.#begin(record, row);
      return;
    }
    const width = this.columns.length;
    const excess = record.length > width && record.slice(width).some((cell) => cell.trim() !== "");
    if (record.length < width || excess) {
      this.uneven.add(() =>
        inputProblem("uneven-row", this.place, { row, details: { found: record.length, expected: width } }),
      );
      if (this.uneven.count >= mostUneven) throw new InputError(this.problems());
      return;
    }
    for (const i of this.kept) (this.columns[i] as DictionaryColumn).push(record[i] as string);
    this.sheetRow.push(row);
    if (this.sheetRow.length * this.kept.length > this.limits.cells) {
      const details = { what: "cells", limit: this.limits.cells };
      throw new InputError([inputProblem("file-too-large", this.place, { details })]);
    }
  }

  #begin(record: readonly string[], row: number): void {
    this.header = record.map((name) => name.trim());
    this.headerRow = row;
    this.columns = record.map(() => new DictionaryColumn());
    // Columns without a name are kept until it is known that they are empty.
    this.kept = this.header.flatMap((name, i) => (name === "" || this.wants(name) ? [i] : []));
  }

  /** True where the cells of the column at this place are kept. */
  keeps(place: number): boolean {
    const name = this.header?.[place];
    return name !== undefined && name !== "" && this.wants(name);
  }

  /** What is wrong with the header, and with single rows. */
  problems(): InputProblem[] {
    return [...headerProblems(this.header ?? [], this.columns, this.place), ...this.uneven.list()];
  }

  /** The columns that have a name, in the order of the file. */
  finish(): TextColumn[] {
    const kept = new Set(this.kept);
    const nothing = new Uint32Array(this.sheetRow.length);
    return (this.header ?? []).flatMap((name, i) => {
      if (name === "") return [];
      return [kept.has(i) ? (this.columns[i] as DictionaryColumn).finish(name) : emptyColumn(name, nothing)];
    });
  }
}

function headerProblems(names: readonly string[], columns: readonly DictionaryColumn[], place: string): InputProblem[] {
  const problems: InputProblem[] = [];
  const seen = new Map<string, number>();
  names.forEach((name, i) => {
    const position = i + 1;
    if (name === "") {
      if (columns[i]?.blank === false) problems.push(inputProblem("unnamed-column", place, { details: { position } }));
      return;
    }
    const first = seen.get(name);
    if (first === undefined) seen.set(name, position);
    else problems.push(inputProblem("duplicate-column", place, { value: name, details: { first, position } }));
  });
  return problems;
}
