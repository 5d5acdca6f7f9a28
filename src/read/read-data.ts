import { createHash } from "node:crypto";
import { Archive, tooLarge } from "./archive.js";
import { chooseTable } from "./choose-table.js";
import { type Content, contentOf, readCsvPart, refuseProblems, whole } from "./csv.js";
import { unpackGzip } from "./gzip.js";
import { joinParents } from "./join.js";
import { kindOf } from "./kind.js";
import { isKept, limitsOf, type ReadOptions } from "./options.js";
import { readParquetPart } from "./parquet.js";
import type { Part } from "./part.js";
import { InputError, inputProblem } from "./problem.js";
import type { Container, ContainerKind, TextTable } from "./table.js";
import { isWorkbook, readContents } from "./workbook/contents.js";
import { readSheet } from "./workbook/sheet.js";

/** A file of a folder. */
export interface NamedBytes {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Files of an archive or folder that are tables of text. */
export function isTableName(path: string): boolean {
  const name = path.slice(path.lastIndexOf("/") + 1);
  return /\.(?:csv|tsv|txt)$/i.test(name) && !name.startsWith(".") && !path.startsWith("__MACOSX/");
}

function withoutEnding(name: string): string {
  return name.replace(/\.[A-Za-z0-9]{1,5}$/, "");
}

/** Names of tables: the file's own without its ending, or the whole path where two would be the same. */
function tableNames(paths: readonly string[]): string[] {
  const short = paths.map((path) => withoutEnding(path.slice(path.lastIndexOf("/") + 1)));
  return paths.map((path, i) => {
    const name = short[i] ?? path;
    return short.filter((other) => other === name).length === 1 ? name : withoutEnding(path);
  });
}

/** One table out of several: the children's, with its parents' columns. */
function joinedContent(parts: readonly Part[], place: string, kind: ContainerKind, options: ReadOptions): Content {
  const { rows, chain, notes } = chooseTable(parts, place, options, kind === "xlsx");
  const joined = joinParents(rows, chain, (name) => isKept(options, name));
  const container: Container = {
    kind,
    ...(rows.name === undefined ? {} : { table: rows.name }),
    ...(kind === "xlsx" ? { headerRow: rows.headerRow } : {}),
    ...(chain.length === 0 ? {} : { joined: chain.map((link) => link.parent.name ?? "") }),
  };
  return { ...contentOf(rows), container, columns: joined.columns, notes: [...notes, ...joined.notes] };
}

/** Several tables have to be read whole, since any column may be a key; what nobody asked for is dropped once they are joined. */
function readOptionsFor(tables: number, options: ReadOptions): ReadOptions {
  if (tables <= 1) return options;
  const { columns: _, ...rest } = options;
  return rest;
}

async function workbookContent(archive: Archive, options: ReadOptions): Promise<Content> {
  const contents = await readContents(archive);
  const parts: Part[] = [];
  const forParts = readOptionsFor(contents.sheets.length, options);
  for (const sheet of contents.sheets) parts.push(await readSheet(archive, contents, sheet, forParts));
  return joinedContent(parts, archive.place, "xlsx", options);
}

/** A table that cannot be read at all is no table; why stands with it, in case it is needed. */
async function partOrProblems(table: NamedBytes, place: string, name: string, options: ReadOptions): Promise<Part> {
  try {
    return await readCsvPart(table.bytes, place, options, name);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const nothing = { columns: [], rowCount: 0, sheetRow: new Uint32Array(), headerRow: 0, hiddenRows: 0 };
    return { ...nothing, name, place, encoding: "utf-8", delimiter: "none", problems: error.problems };
  }
}

async function tablesContent(
  tables: readonly NamedBytes[],
  place: string,
  kind: ContainerKind,
  options: ReadOptions,
): Promise<Content> {
  if (tables.length === 0) throw new InputError([inputProblem("no-tables", place)]);
  const most = limitsOf(options).tables;
  if (tables.length > most) throw tooLarge(place, "entries", most);
  const names = tableNames(tables.map((table) => table.name));
  const forParts = readOptionsFor(tables.length, options);
  const parts: Part[] = [];
  for (const [i, table] of tables.entries()) {
    parts.push(await partOrProblems(table, place, names[i] ?? table.name, forParts));
  }
  return joinedContent(parts, place, kind, options);
}

async function archiveContent(archive: Archive, options: ReadOptions, inside: boolean): Promise<Content> {
  if (isWorkbook(archive)) return workbookContent(archive, options);
  if (inside || archive.entries.has("content.xml")) {
    const format = inside ? "zip" : "ods";
    throw new InputError([inputProblem("not-text", archive.place, { details: { format } })]);
  }
  const paths = [...archive.entries.keys()].sort();
  const tables: NamedBytes[] = [];
  for (const path of paths.filter(isTableName)) tables.push({ name: path, bytes: await archive.bytesOf(path) });
  const packed = paths.filter((path) => /\.(?:xlsx|xlsm|parquet)$/i.test(path) && !path.startsWith("__MACOSX/"));
  const [only, another] = packed;
  if (tables.length > 0 || only === undefined || another !== undefined) {
    return tablesContent(tables, archive.place, "zip", options);
  }
  const content = await contentFrom(await archive.bytesOf(only), archive.place, options, true);
  return { ...content, container: { ...content.container, kind: "zip" } };
}

/** `inside` is true for a file out of an archive, which is not unpacked again. */
async function contentFrom(bytes: Uint8Array, place: string, options: ReadOptions, inside: boolean): Promise<Content> {
  const kind = kindOf(bytes);
  if (kind === "zip") {
    return archiveContent(await Archive.open(bytes, place, limitsOf(options)), options, inside);
  }
  const part =
    kind === "parquet"
      ? await readParquetPart(bytes, place, options)
      : await readCsvPart(
          kind === "gzip" ? unpackGzip(bytes, place, limitsOf(options)) : bytes,
          place,
          options,
          undefined,
        );
  refuseProblems(part);
  const content = contentOf(part);
  return kind === "parquet" || kind === "gzip" ? { ...content, container: { kind } } : content;
}

/**
 * Reads a data file of any kind as one table with a row a child: text in any of the known encodings, gzip, Parquet, a
 * workbook, or an archive of a form's tables, which are joined. The kind is told from the bytes, not from the name. Throws InputError
 * with everything that the user has to change.
 */
export async function readData(bytes: Uint8Array, file: string, options: ReadOptions = {}): Promise<TextTable> {
  return whole(await contentFrom(bytes, file, options, false), file, bytes);
}

/** Reads a folder of a form's tables as one table with a row a child. */
export async function readFolder(
  files: readonly NamedBytes[],
  folder: string,
  options: ReadOptions = {},
): Promise<TextTable> {
  const tables = files
    .filter((file) => isTableName(file.name))
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
  const content = await tablesContent(tables, folder, "folder", options);
  const hash = createHash("sha256");
  for (const { name, bytes } of tables) hash.update(`${name}\0${bytes.length}\0`).update(bytes);
  const bytes = tables.reduce((sum, table) => sum + table.bytes.length, 0);
  return { ...content, file: folder, bytes, sha256: hash.digest("hex") };
}
