import { createHash } from "node:crypto";
import { basename, dirname, extname, resolve } from "node:path";
import { recognisesName } from "../describe/column-names.js";
import { dataFileOf, namedColumns, parseSurveyFile, type SurveyFile } from "../describe/survey-file.js";
import { readCsv } from "../read/csv.js";
import type { TextTable } from "../read/table.js";
import { readNamedFile } from "./read-file.js";

export interface LoadedInput {
  readonly table: TextTable;
  readonly surveyFile: SurveyFile | null;
  readonly settingsSha256: string | null;
}

const isSettings = (path: string): boolean => [".yaml", ".yml"].includes(extname(path).toLowerCase());

/** Reads a data file alone, or the settings file and the data file that it names (from the settings' own folder). */
export async function loadInput(path: string): Promise<LoadedInput> {
  if (!isSettings(path)) {
    const table = await readCsv(await readNamedFile(path), basename(path), {
      recognises: recognisesName,
    });
    return { table, surveyFile: null, settingsSha256: null };
  }
  const bytes = await readNamedFile(path);
  const surveyFile = parseSurveyFile(bytes.toString("utf8"), basename(path));
  const data = dataFileOf(surveyFile);
  const dataPath = resolve(dirname(path), data.path);
  const delimiter = data.delimiter === undefined ? {} : { delimiter: data.delimiter };
  const columns = namedColumns(surveyFile);
  const table = await readCsv(await readNamedFile(dataPath), basename(dataPath), {
    recognises: recognisesName,
    ...delimiter,
    // Columns that the settings do not name are never read.
    ...(columns === null ? {} : { columns }),
  });
  return {
    table,
    surveyFile,
    settingsSha256: createHash("sha256").update(bytes).digest("hex"),
  };
}
