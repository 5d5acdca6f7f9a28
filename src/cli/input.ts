import { createHash } from "node:crypto";
import { basename, dirname, extname, resolve } from "node:path";
import { matchName, recognisesName } from "../columns/column-names.js";
import { isDesignName } from "../describe/unread-columns.js";
import type { ReadOptions } from "../read/options.js";
import type { TextTable } from "../read/table.js";
import { message } from "../results/message.js";
import { type MeasureRole, measureRoles } from "../settings/roles.js";
import {
  clusterListOf,
  dataFileOf,
  namedColumns,
  parseSurveyFile,
  roleSpecs,
  type SurveyFile,
} from "../settings/survey-file.js";
import { mostTextBytes, readDataAt, readNamedFile } from "./read-file.js";
import { UsageError } from "./usage-error.js";

export interface LoadedInput {
  readonly table: TextTable;
  readonly surveyFile: SurveyFile | null;
  readonly settingsSha256: string | null;
  /** The list of clusters that the settings name; null when they name none. */
  readonly clusterList: TextTable | null;
}

const isSettings = (path: string): boolean => [".yaml", ".yml"].includes(extname(path).toLowerCase());

function isMeasureName(name: string): boolean {
  return matchName(name).some(({ role }) => measureRoles.includes(role as MeasureRole));
}

/** Reads a data file of any kind without settings: columns are told by their usual names. */
export function loadTable(path: string, more: Pick<ReadOptions, "sheet" | "onRows"> = {}): Promise<TextTable> {
  return readDataAt(path, { recognises: recognisesName, isMeasure: isMeasureName, ...more });
}

/**
 * How the settings say that the data are to be read. Columns that they do not name are never kept, but those named like a part of the
 * design that the settings leave out: what they would change is told, never what they hold.
 */
export function readOptionsOf(surveyFile: SurveyFile): ReadOptions {
  const { path: _, ...stated } = dataFileOf(surveyFile);
  const { language } = surveyFile.values;
  const columns = namedColumns(surveyFile);
  const common = { ...stated, ...(language === undefined ? {} : { language }) };
  if (columns === null) return { ...common, recognises: recognisesName, isMeasure: isMeasureName };
  const specs = roleSpecs(surveyFile.values);
  const measures = new Set(measureRoles.map((role) => specs.get(role)?.column));
  return {
    ...common,
    recognises: (name) => columns.has(name) || recognisesName(name),
    isMeasure: (name) => measures.has(name),
    columns,
    alsoKept: (name) => isDesignName(name, (role) => specs.has(role)),
  };
}

/** How the list of clusters that the settings name is to be read, and where it lies; null where they name none. */
export function clusterListOptions(surveyFile: SurveyFile): (ReadOptions & { readonly path: string }) | null {
  const list = clusterListOf(surveyFile);
  if (list === null) return null;
  const { path, delimiter, columns } = list;
  const options = { path, recognises: (name: string) => columns.has(name), columns };
  return delimiter === undefined ? options : { ...options, delimiter };
}

/** Reads the list of clusters that the settings name, from the settings' own folder. */
async function loadClusterList(path: string, surveyFile: SurveyFile): Promise<TextTable | null> {
  const list = clusterListOptions(surveyFile);
  return list === null ? null : readDataAt(resolve(dirname(path), list.path), list, dirname(path));
}

export interface LoadOptions {
  /** Told how many rows of the data have been read, from time to time. */
  readonly onRows?: (rows: number) => void;
  /** A data file given on the command line, in place of the one that the settings name. */
  readonly data?: string | undefined;
}

/**
 * Reads a data file alone, or the settings file and the data file that it names. What settings name has to lie in their own
 * folder or below, so that settings from elsewhere cannot reach other files; a file named on the command line may lie anywhere.
 */
export async function loadInput(path: string, { data, onRows }: LoadOptions = {}): Promise<LoadedInput> {
  const progress = onRows === undefined ? {} : { onRows };
  if (!isSettings(path)) {
    if (data !== undefined) throw new UsageError(message("cli.usage.data", { path }));
    return { table: await loadTable(path, progress), surveyFile: null, settingsSha256: null, clusterList: null };
  }
  const bytes = await readNamedFile(path, mostTextBytes);
  const surveyFile = parseSurveyFile(bytes.toString("utf8"), basename(path));
  const options = { ...readOptionsOf(surveyFile), ...progress };
  const folder = dirname(path);
  const table =
    data === undefined
      ? await readDataAt(resolve(folder, dataFileOf(surveyFile).path), options, folder)
      : await readDataAt(data, options);
  return {
    table,
    surveyFile,
    settingsSha256: createHash("sha256").update(bytes).digest("hex"),
    clusterList: await loadClusterList(path, surveyFile),
  };
}
