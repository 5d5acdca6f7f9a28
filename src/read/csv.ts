import { createHash } from "node:crypto";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { CsvError, parse } from "csv-parse";
import { type Delimiter, findDelimiter } from "./delimiter.js";
import { DictionaryColumn, GrowingCodes } from "./dictionary.js";
import { decodeStart, type Encoding, findEncoding, sampleWord, utf8Chunks } from "./encoding.js";
import { InputError, type InputProblem, inputProblem } from "./problem.js";
import type { TextTable } from "./table.js";

export interface ReadOptions {
  /** Whether a column name is one the program knows; helps to find the delimiter. */
  readonly recognises?: (name: string) => boolean;
  /** Taken as it is when given; found from the header when not. */
  readonly delimiter?: Delimiter;
}

/** Bytes looked at to find the delimiter: fifty rows even where cells are very long. */
const startBytes = 1 << 20;
/** Uneven rows named one by one; beyond that they are only counted. */
const unevenNamed = 1000;

/** A line that some spreadsheets put first and hide again: it names the delimiter. */
const delimiterLine = /^sep=([,;\t|])(?:\r\n|\n|\r|$)/i;

interface Layout {
  readonly encoding: Encoding;
  readonly delimiter: Delimiter;
  /** First byte of the header. */
  readonly start: number;
}

function findLayout(bytes: Uint8Array, file: string, options: ReadOptions): Layout {
  const { encoding, start } = findEncoding(bytes, file);
  const { text, whole } = decodeStart(bytes, encoding, start, startBytes);
  if (text.trim() === "") throw new InputError([inputProblem("empty-file", file)]);
  const stated = delimiterLine.exec(text);
  if (stated !== null) {
    const width = encoding.startsWith("utf-16") ? 2 : 1;
    return { encoding, delimiter: stated[1] as Delimiter, start: start + stated[0].length * width };
  }
  const delimiter = options.delimiter ?? findDelimiter(text, whole, options.recognises ?? (() => false));
  if (delimiter === "unclear") throw new InputError([inputProblem("delimiter-unclear", file)]);
  if (delimiter === "none") {
    const value = /[^\r\n]+/.exec(text.trimStart())?.[0] ?? "";
    throw new InputError([inputProblem("one-column", file, { value })]);
  }
  return { encoding, delimiter, start };
}

/** Takes records one by one: the first that isn't blank is the header, every later one a row of data. */
class TableBuilder {
  header: readonly string[] | null = null;
  columns: DictionaryColumn[] = [];
  readonly sheetRow = new GrowingCodes();
  readonly uneven: InputProblem[] = [];
  unevenCount = 0;
  /** Records seen, blank ones included: the row a spreadsheet would show. */
  sheetRowNow = 0;

  constructor(readonly file: string) {}

  take(record: readonly string[]): void {
    this.sheetRowNow += 1;
    if (record.every((cell) => cell.trim() === "")) return;
    if (this.header === null) {
      this.header = record.map((name) => name.trim());
      this.columns = record.map(() => new DictionaryColumn());
      return;
    }
    const wanted = this.columns.length;
    if (
      record.length !== wanted &&
      (record.length < wanted || record.slice(wanted).some((cell) => cell.trim() !== ""))
    ) {
      this.#refuse(record.length, wanted);
      return;
    }
    for (let i = 0; i < wanted; i++) (this.columns[i] as DictionaryColumn).push(record[i] as string);
    this.sheetRow.push(this.sheetRowNow);
  }

  #refuse(found: number, expected: number): void {
    this.unevenCount += 1;
    if (this.uneven.length >= unevenNamed) return;
    this.uneven.push(inputProblem("uneven-row", this.file, { row: this.sheetRowNow, details: { found, expected } }));
  }

  /** Uneven rows; the last one named stands for all those that were only counted. */
  unevenRows(): InputProblem[] {
    const rows = [...this.uneven];
    const last = rows.pop();
    return last === undefined ? [] : [...rows, { ...last, count: this.unevenCount - rows.length }];
  }
}

function headerProblems(names: readonly string[], columns: readonly DictionaryColumn[], file: string): InputProblem[] {
  const problems: InputProblem[] = [];
  const seen = new Map<string, number>();
  names.forEach((name, i) => {
    const position = i + 1;
    if (name === "") {
      if (columns[i]?.blank === false) problems.push(inputProblem("unnamed-column", file, { details: { position } }));
      return;
    }
    const first = seen.get(name);
    if (first === undefined) seen.set(name, position);
    else problems.push(inputProblem("duplicate-column", file, { value: name, details: { first, position } }));
  });
  return problems;
}

async function parseInto(builder: TableBuilder, bytes: Uint8Array, layout: Layout): Promise<void> {
  const parser = parse({
    delimiter: layout.delimiter,
    relax_column_count: true,
    record_delimiter: bytes.includes(0x0d) ? ["\r\n", "\n", "\r"] : ["\n"],
  });
  const chunks = Readable.from(utf8Chunks(bytes, layout.encoding, layout.start), { objectMode: true });
  try {
    await pipeline(chunks, parser, async (records: AsyncIterable<string[]>) => {
      for await (const record of records) builder.take(record);
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    // Counted by the parser: when it fails, some records before the failure were not handed over yet.
    const row = Number(error.records) + 1;
    throw new InputError([inputProblem("broken-quotes", builder.file, { row, details: { code: error.code } })]);
  }
}

/**
 * Reads a CSV file as columns of text. Encoding: byte order mark, strict UTF-8, else Windows-1252. The delimiter is found
 * from the header. Blank lines are passed over but counted, so that row numbers are those a spreadsheet shows. Memory grows with the
 * distinct texts of each column and four bytes a cell, not with the length of the file. Throws InputError with every
 * problem found.
 */
export async function readCsv(bytes: Uint8Array, file: string, options: ReadOptions = {}): Promise<TextTable> {
  const layout = findLayout(bytes, file, options);
  const builder = new TableBuilder(file);
  await parseInto(builder, bytes, layout);
  const names = builder.header ?? [];
  const problems = [...headerProblems(names, builder.columns, file), ...builder.unevenRows()];
  if (problems.length === 0 && builder.sheetRow.length === 0) problems.push(inputProblem("no-rows", file));
  if (problems.length > 0) throw new InputError(problems);
  const sample = layout.encoding === "windows-1252" ? sampleWord(bytes, layout.start) : undefined;
  return {
    file,
    bytes: bytes.length,
    sha256: createHash("sha256").update(bytes).digest("hex"),
    encoding: layout.encoding,
    ...(sample === undefined ? {} : { encodingSample: sample }),
    delimiter: layout.delimiter,
    columns: builder.columns.map((column, i) => column.finish(names[i] ?? "")).filter((column) => column.name !== ""),
    rowCount: builder.sheetRow.length,
    sheetRow: builder.sheetRow.finish(),
  };
}
