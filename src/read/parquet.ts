import { type FileMetaData, parquetMetadata, parquetScan, parquetSchema, type SchemaTree } from "hyparquet";
import { compressors } from "hyparquet-compressors";
import { brokenFile } from "./archive.js";
import { DictionaryColumn, emptyColumn } from "./dictionary.js";
import type { Limits } from "./limits.js";
import { isKept, limitsOf, type ReadOptions } from "./options.js";
import type { Part } from "./part.js";
import { InputError, type InputProblem, inputProblem } from "./problem.js";
import type { TextColumn } from "./table.js";

/** Rows read at a time where a group of rows is larger: what is decoded at once stays small. */
const rowsAtATime = 1 << 20;

function timeText(date: Date): string {
  if (Number.isNaN(date.getTime())) return "";
  const text = date.toISOString();
  return text.endsWith("T00:00:00.000Z") ? text.slice(0, 10) : text.slice(0, 19);
}

/** The shortest number that is the same in single precision: 12.3 and not 12.300000190734863. */
function singleText(value: number): string {
  for (let digits = 6; digits < 9; digits++) {
    const short = Number(value.toPrecision(digits));
    if (Math.fround(short) === value) return String(short);
  }
  return String(value);
}

/** A value's text: nothing for none, dates as year-month-day, numbers in up to 15 digits. */
function valueText(value: unknown, single: boolean): string {
  if (value === null || value === undefined) return "";
  if (value instanceof Date) return timeText(value);
  if (typeof value === "number") {
    // NaN is how tables of numbers write 'nothing'; what is infinite is no measurement, and is told of as it stands.
    if (!Number.isFinite(value)) return Number.isNaN(value) ? "" : String(value);
    return single ? singleText(value) : String(Number(value.toPrecision(15)));
  }
  return typeof value === "object" ? "" : String(value);
}

/** Different values whose texts are kept at hand. */
const textsKept = 1 << 16;

/** Texts of values, each made once as long as there are not too many: measurements and dates come back again and again. */
class ValueTexts {
  readonly #texts = new Map<unknown, string>();

  constructor(readonly single: boolean) {}

  of(value: unknown): string {
    if (typeof value === "string") return value;
    const key = value instanceof Date ? value.getTime() : value;
    const known = this.#texts.get(key);
    if (known !== undefined) return known;
    const text = valueText(value, this.single);
    if (this.#texts.size < textsKept) this.#texts.set(key, text);
    return text;
  }
}

/** The page's own word on its size is the most that may come out of it. */
function limitedCompressors(limits: Limits): typeof compressors {
  const entries = Object.entries(compressors).map(([name, unpack]) => {
    const limited = (input: Uint8Array, length: number): Uint8Array => {
      if (length > limits.partBytes) throw new RangeError("page too large");
      return unpack(input, length);
    };
    return [name, limited] as const;
  });
  return Object.fromEntries(entries);
}

/** True for a column of single values: no list, map or group. */
function isFlat(node: SchemaTree): boolean {
  return node.children.length === 0 && node.element.repetition_type !== "REPEATED";
}

interface OpenFile {
  readonly buffer: ArrayBuffer;
  readonly metadata: FileMetaData;
  readonly limits: Limits;
}

/** Reads one column, a group of rows at a time. */
async function readColumn({ buffer, metadata, limits }: OpenFile, node: SchemaTree): Promise<TextColumn> {
  const column = new DictionaryColumn();
  const texts = new ValueTexts(node.element.type === "FLOAT");
  const { name } = node.element;
  const unpackers = limitedCompressors(limits);
  const scan = await parquetScan({ file: buffer, metadata, columns: [name], compressors: unpackers });
  for (const { rowStart, rowEnd } of scan.ranges) {
    for (let from = rowStart; from < rowEnd; from += rowsAtATime) {
      const to = Math.min(rowEnd, from + rowsAtATime);
      const values = await scan.readColumn({ column: name, rowStart: from, rowEnd: to });
      // A row that is not there must not pass for an empty one.
      if (values.length !== to - from) throw new RangeError("rows missing");
      for (let i = 0; i < values.length; i++) column.push(texts.of(values[i]));
    }
  }
  return column.finish(name);
}

function refuseTooLarge(metadata: FileMetaData, columns: number, place: string, limits: Limits): number {
  const rows = metadata.row_groups.reduce((sum, group) => sum + Number(group.num_rows), 0);
  const chunks = metadata.row_groups.flatMap((group) => group.columns);
  const largest = Math.max(0, ...chunks.map((chunk) => Number(chunk.meta_data?.total_uncompressed_size ?? 0)));
  const refuse = (what: string, limit: number): never => {
    throw new InputError([inputProblem("file-too-large", place, { details: { what, limit } })]);
  };
  if (rows * Math.max(1, columns) > limits.cells) refuse("cells", limits.cells);
  if (largest > limits.partBytes) refuse("unpacked", limits.partBytes);
  return rows;
}

/**
 * Reads a Parquet file as a table, only the columns wanted. A row's number is the one it would have in a spreadsheet with the
 * column names in its first row. Throws InputError where the file is broken or too large.
 */
export async function readParquetPart(bytes: Uint8Array, file: string, options: ReadOptions): Promise<Part> {
  const limits = limitsOf(options);
  try {
    const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
    const metadata = parquetMetadata(buffer);
    const fields = parquetSchema(metadata).children;
    const wanted = fields.filter((node) => isKept(options, node.element.name));
    const rowCount = refuseTooLarge(metadata, wanted.filter(isFlat).length, file, limits);
    const nothing = new Uint32Array(rowCount);
    const columns: TextColumn[] = [];
    for (const node of fields) {
      const read = wanted.includes(node) && isFlat(node);
      columns.push(
        read ? await readColumn({ buffer, metadata, limits }, node) : emptyColumn(node.element.name, nothing),
      );
    }
    // A measurement in lists is asked for even where no settings name it: without it the report would speak of fewer things.
    const isNeeded = (name: string): boolean => options.columns?.has(name) ?? options.isMeasure?.(name) === true;
    const nested = fields.filter((node) => !isFlat(node) && isNeeded(node.element.name));
    const problems = nested.map(
      (node): InputProblem => inputProblem("nested-column", file, { value: node.element.name }),
    );
    if (columns.some((column) => column.codes.length !== rowCount)) throw new RangeError("rows missing");
    return {
      place: file,
      encoding: "utf-8",
      delimiter: "none",
      headerRow: 1,
      hiddenRows: 0,
      columns,
      rowCount,
      sheetRow: Uint32Array.from({ length: rowCount }, (_, i) => i + 2),
      nested: fields.filter((node) => !isFlat(node)).map((node) => node.element.name),
      problems,
    };
  } catch (error) {
    // Whatever the reader stumbles over in a damaged file, it throws in words of its own.
    throw error instanceof InputError ? error : brokenFile(file, "parquet");
  }
}
