import { quillmar } from "../../src/example/place.js";
import type { ExampleSurvey } from "../../src/example/survey.js";
import { columns } from "../../src/example/to-csv.js";

/** A row of the file as a plain object, keyed by column name. */
export type ExampleRow = Readonly<Record<string, string>>;

export function toRows(survey: ExampleSurvey): readonly ExampleRow[] {
  const { days } = survey.options.fieldwork ?? quillmar;
  return survey.records.map((record) =>
    Object.fromEntries(columns.map(({ name, text }) => [name, text(record, days)])),
  );
}
