import { parse } from "csv-parse/sync";
import { headerPlace, rowsAbove } from "./header-row.js";
import type { Delimiter } from "./table.js";

const delimiters: readonly Delimiter[] = [",", ";", "\t", "|"];

/** Rows after the header that are looked at. */
const rowsLookedAt = 50;
/** Records read: those, the header, and what may stand above it. */
const recordsRead = rowsAbove + 1 + rowsLookedAt;

interface Candidate {
  readonly delimiter: Delimiter;
  readonly header: readonly string[];
  /** Column names that the program knows. */
  readonly recognised: number;
  /** Share of the rows with as many fields as the header. */
  readonly even: number;
}

/** The first records of a text under one delimiter. Broken quotes end the look, they are reported when the file is read. */
function firstRecords(text: string, whole: boolean, delimiter: Delimiter): string[][] {
  const records: string[][] = [];
  const keep = (record: string[]): null => {
    if (record.some((cell) => cell.trim() !== "")) records.push(record);
    return null;
  };
  try {
    parse(text, {
      delimiter,
      relax_column_count: true,
      relax_quotes: true,
      record_delimiter: ["\r\n", "\n", "\r"],
      to: recordsRead * 2,
      on_record: keep,
    });
  } catch {
    return records.slice(0, recordsRead);
  }
  if (!whole && records.length < recordsRead) records.pop();
  return records.slice(0, recordsRead);
}

function lookAt(text: string, whole: boolean, delimiter: Delimiter, recognises: (name: string) => boolean): Candidate {
  const records = firstRecords(text, whole, delimiter);
  const [header = [], ...rows] = records.slice(headerPlace(records, recognises)).slice(0, rowsLookedAt + 1);
  const even = rows.filter((row) => row.length === header.length).length;
  return {
    delimiter,
    header,
    recognised: header.filter((name) => recognises(name.trim())).length,
    even: rows.length === 0 ? 1 : even / rows.length,
  };
}

/**
 * The delimiter, found from the header first: the one that makes most column names known to the program, then the one
 * under which most of the first 50 rows have as many fields as the header, then the one with most columns. The cells of the
 * body alone never decide: '1,5;2,5' has as many commas as semicolons. Returns 'none' when the header is one field under
 * each, 'unclear' when two do equally well.
 */
export function findDelimiter(
  text: string,
  whole: boolean,
  recognises: (name: string) => boolean,
): Delimiter | "none" | "unclear" {
  const candidates = delimiters
    .filter((delimiter) => text.includes(delimiter))
    .map((delimiter) => lookAt(text, whole, delimiter, recognises))
    .filter((candidate) => candidate.header.length > 1);
  const rank = (a: Candidate, b: Candidate): number =>
    b.recognised - a.recognised || b.even - a.even || b.header.length - a.header.length;
  const [best, second] = candidates.sort(rank);
  if (best === undefined) return "none";
  return second !== undefined && rank(best, second) === 0 ? "unclear" : best.delimiter;
}
