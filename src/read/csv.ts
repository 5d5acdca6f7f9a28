import { createHash } from "node:crypto";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { CsvError, parse } from "csv-parse";
import { type Delimiter, findDelimiter } from "./delimiter.js";
import { DictionaryColumn, GrowingCodes } from "./dictionary.js";
import { decodeStart, type Encoding, findEncoding, sampleWord, utf8Chunks } from "./encoding.js";
import { InputError, type InputProblem, inputProblem, RowProblems } from "./problem.js";
import type { TextColumn, TextTable } from "./table.js";

export interface ReadOptions {
  /** Whether a column name is one the program knows; helps to find the delimiter. */
  readonly recognises?: (name: string) => boolean;
  /** Taken as it is when given; found from the header when not. */
  readonly delimiter?: Delimiter;
  /** Columns whose cells are wanted; all when absent. The others are there by name only, every cell empty. */
  readonly columns?: ReadonlySet<string>;
}

/** Bytes looked at to find the delimiter: fifty rows even where cells are very long. */
const startBytes = 1 << 20;

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
  /** Places of the columns whose cells are kept. */
  kept: number[] = [];
  readonly sheetRow = new GrowingCodes();
  readonly uneven = new RowProblems();
  /** Records seen, blank ones included: the row a spreadsheet would show. */
  sheetRowNow = 0;

  constructor(
    readonly file: string,
    readonly wanted: ReadonlySet<string> | undefined,
  ) {}

  take(record: readonly string[]): void {
    this.sheetRowNow += 1;
    if (record.every((cell) => cell.trim() === "")) return;
    if (this.header === null) {
      this.header = record.map((name) => name.trim());
      this.columns = record.map(() => new DictionaryColumn());
      // Columns without a name are kept until it is known that they are empty.
      this.kept = this.header.flatMap((name, i) => (name === "" || this.wanted?.has(name) !== false ? [i] : []));
      return;
    }
    const width = this.columns.length;
    const excess = record.length > width && record.slice(width).some((cell) => cell.trim() !== "");
    if (record.length < width || excess) {
      this.#refuse(record.length, width);
      return;
    }
    for (const i of this.kept) (this.columns[i] as DictionaryColumn).push(record[i] as string);
    this.sheetRow.push(this.sheetRowNow);
  }

  #refuse(found: number, expected: number): void {
    const row = this.sheetRowNow;
    this.uneven.add(() => inputProblem("uneven-row", this.file, { row, details: { found, expected } }));
  }

  /** The columns that have a name, in the order of the file. */
  finish(): TextColumn[] {
    const kept = new Set(this.kept);
    const empty = { codes: new Uint32Array(this.sheetRow.length), values: [""] };
    return (this.header ?? []).flatMap((name, i) => {
      if (name === "") return [];
      return [kept.has(i) ? (this.columns[i] as DictionaryColumn).finish(name) : { name, ...empty }];
    });
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

/** The line ends in use: fewer to look for make reading faster. */
function lineEnds(bytes: Uint8Array): string[] {
  let pairs = 0;
  let returns = 0;
  let feeds = 0;
  for (let i = 0; i < bytes.length; i++) {
    const byte = bytes[i];
    if (byte === 0x0a) feeds += 1;
    else if (byte === 0x0d) {
      returns += 1;
      if (bytes[i + 1] === 0x0a) pairs += 1;
    }
  }
  if (returns === 0) return ["\n"];
  return pairs === returns && pairs === feeds ? ["\r\n"] : ["\r\n", "\n", "\r"];
}

async function parseInto(builder: TableBuilder, bytes: Uint8Array, layout: Layout): Promise<void> {
  const parser = parse({
    delimiter: layout.delimiter,
    relax_column_count: true,
    record_delimiter: layout.encoding.startsWith("utf-16") ? ["\r\n", "\n", "\r"] : lineEnds(bytes),
  });
  parser.on("data", (record: string[]) => builder.take(record));
  try {
    await pipeline(Readable.from(utf8Chunks(bytes, layout.encoding, layout.start)), parser);
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
  const builder = new TableBuilder(file, options.columns);
  await parseInto(builder, bytes, layout);
  const names = builder.header ?? [];
  const problems = [...headerProblems(names, builder.columns, file), ...builder.uneven.list()];
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
    columns: builder.finish(),
    rowCount: builder.sheetRow.length,
    sheetRow: builder.sheetRow.finish(),
  };
}
