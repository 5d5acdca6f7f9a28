import { createHash } from "node:crypto";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { CsvError, parse } from "csv-parse";
import { headerNotes } from "./choose-table.js";
import { sampleWord } from "./code-page.js";
import { findDelimiter } from "./delimiter.js";
import { decodeStart, type FoundEncoding, findEncoding, utf8Chunks } from "./encoding.js";
import { HeaderSearch } from "./header-row.js";
import { isKept, limitsOf, type ReadOptions } from "./options.js";
import type { Part } from "./part.js";
import { InputError, inputProblem } from "./problem.js";
import { type Delimiter, placeName, type TextTable } from "./table.js";
import { TableBuilder } from "./table-builder.js";

/** Bytes looked at to find the delimiter: fifty rows even where cells are very long. */
const startBytes = 1 << 20;

/** A line that some spreadsheets put first and hide again: it names the delimiter. */
const delimiterLine = /^sep=([,;\t|])(?:\r\n|\n|\r|$)/i;

interface Layout extends FoundEncoding {
  readonly delimiter: Delimiter;
}

function findLayout(bytes: Uint8Array, place: string, options: ReadOptions): Layout {
  const found = findEncoding(bytes, place, options);
  const { encoding, start } = found;
  const { text, whole } = decodeStart(bytes, encoding, start, startBytes);
  if (text.trim() === "") throw new InputError([inputProblem("empty-file", place)]);
  const stated = delimiterLine.exec(text);
  if (stated !== null) {
    const width = encoding.startsWith("utf-16") ? 2 : 1;
    return { ...found, delimiter: stated[1] as Delimiter, start: start + stated[0].length * width };
  }
  const delimiter = options.delimiter ?? findDelimiter(text, whole, options.recognises ?? (() => false));
  if (delimiter === "unclear") throw new InputError([inputProblem("delimiter-unclear", place)]);
  if (delimiter === "none") {
    const value = /[^\r\n]+/.exec(text.trimStart())?.[0] ?? "";
    throw new InputError([inputProblem("one-column", place, { value })]);
  }
  return { ...found, delimiter };
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

/** A person waits a few seconds for so many rows. */
const rowsBetweenTold = 200_000;

/** A record and its number as a spreadsheet shows it. */
interface NumberedRecord {
  readonly record: readonly string[];
  readonly row: number;
}

/** Reads all records into the builder, from the header on; how many rows stand above it. */
async function parseInto(
  builder: TableBuilder,
  bytes: Uint8Array,
  layout: Layout,
  { recognises = () => false, onRows = () => {} }: Pick<ReadOptions, "recognises" | "onRows">,
): Promise<number> {
  const search = new HeaderSearch<NumberedRecord>(({ record }) => record, recognises);
  const pass = (records: readonly NumberedRecord[]): void => {
    for (const { record, row } of records) builder.take(record, row);
  };
  let refused: unknown = null;
  const take = (record: readonly string[]): void => {
    if (refused !== null) return;
    try {
      // Blank lines count: the row a spreadsheet would show. At this moment the record itself is counted already.
      const row = parser.info.records + parser.info.empty_lines;
      if (row % rowsBetweenTold === 0) onRows(row);
      if (builder.header !== null) builder.take(record, row);
      else if (record.some((cell) => cell.trim() !== "")) pass(search.take({ record, row }));
    } catch (error) {
      refused = error;
      parser.destroy(error as Error);
    }
  };
  const parser = parse({
    delimiter: layout.delimiter,
    relax_column_count: true,
    // Passed over by the parser: it is slow with records of another length than the first.
    skip_empty_lines: true,
    record_delimiter: layout.encoding.startsWith("utf-16") ? ["\r\n", "\n", "\r"] : lineEnds(bytes),
  });
  // Taken as the parser makes them, since later it has passed over more blank lines.
  const end = parser.push.bind(parser);
  parser.push = (record: readonly string[] | null): boolean => {
    if (record === null) return end(null);
    take(record);
    return true;
  };
  parser.resume();
  try {
    await pipeline(Readable.from(utf8Chunks(bytes, layout.encoding, layout.start)), parser);
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    // Counted by the parser: when it fails, some records before the failure were not handed over yet.
    const broken = Number(error.records) + 1;
    const at = { row: broken, details: { code: error.code } };
    throw new InputError([inputProblem("broken-quotes", builder.place, at)]);
  }
  pass(search.finish());
  return search.passedOver;
}

/** Reads one text file as a table, with what is wrong with it beside it. Throws InputError where no table can be made of it. */
export async function readCsvPart(
  bytes: Uint8Array,
  file: string,
  options: ReadOptions,
  name: string | undefined,
): Promise<Part> {
  const place = placeName(file, name);
  const layout = findLayout(bytes, place, options);
  const builder = new TableBuilder(place, (column) => isKept(options, column), limitsOf(options));
  const rowsAbove = await parseInto(builder, bytes, layout, options);
  const sample = layout.assumed ? sampleWord(bytes, layout.encoding, layout.start) : undefined;
  return {
    ...(name === undefined ? {} : { name }),
    place,
    encoding: layout.encoding,
    encodingAssumed: layout.assumed,
    ...(sample === undefined ? {} : { encodingSample: sample }),
    delimiter: layout.delimiter,
    headerRow: builder.headerRow,
    rowsAbove,
    hiddenRows: 0,
    columns: builder.finish(),
    rowCount: builder.sheetRow.length,
    sheetRow: builder.sheetRow.finish(),
    problems: builder.problems(),
  };
}

/** A table of its own is an error where anything is wrong with it, or it has no rows. */
export function refuseProblems(part: Part): void {
  if (part.problems.length > 0) throw new InputError(part.problems);
  if (part.rowCount === 0) throw new InputError([inputProblem("no-rows", part.place)]);
}

/** What a file's bytes hold, before it is said whose they are. */
export type Content = Omit<TextTable, "file" | "bytes" | "sha256">;

export function contentOf(part: Part): Content {
  const notes = headerNotes(part);
  return {
    ...(notes.length === 0 ? {} : { notes }),
    encoding: part.encoding,
    ...(part.encodingAssumed === true ? { encodingAssumed: true } : {}),
    ...(part.encodingSample === undefined ? {} : { encodingSample: part.encodingSample }),
    delimiter: part.delimiter,
    columns: part.columns,
    rowCount: part.rowCount,
    sheetRow: part.sheetRow,
  };
}

/** The table of a file, with the file's name, size and hash. */
export function whole(content: Content, file: string, bytes: Uint8Array): TextTable {
  return { ...content, file, bytes: bytes.length, sha256: createHash("sha256").update(bytes).digest("hex") };
}
