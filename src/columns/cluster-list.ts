import type { TextTable } from "../read/table.js";
import { type InputProblem, inputProblem } from "../settings/problems.js";
import { codeTexts, columnNotFound, type SurveyFile } from "../settings/survey-file.js";
import { type Cells, cellProblem, cellsOf, spreadNumbers } from "./cells.js";
import { noWords, yesWords } from "./codings.js";
import { missingTexts } from "./missing.js";
import { asciiDigits, parseNumber } from "./numbers.js";
import { labelKey } from "./spellings.js";
import { plainWord } from "./words.js";

/** One cluster as the list names it, before the data are looked at. */
export interface ListedCluster {
  readonly label: string;
  /** Null where the list has no strata, or leaves this one open. */
  readonly stratum: string | null;
  /** True for a cluster held in reserve, to be visited only in place of another. */
  readonly replacement: boolean;
  /** Households; NaN where the list does not say. */
  readonly plannedHouseholds: number;
  readonly reachedHouseholds: number;
  readonly householdsInFrame: number;
}

/** The list of the clusters drawn, with what has to be mended in it. */
export interface ClusterList {
  readonly clusters: readonly ListedCluster[];
  /** True when the list says how many households were reached. */
  readonly countsReached: boolean;
  /** True when a label alone does not name a cluster, since it stands in more than one stratum. */
  readonly byStratum: boolean;
  readonly problems: readonly InputProblem[];
}

/** A cluster's label as it is compared: 7, 07 and 7.0 are one number, letters are compared without case and accents. */
export function clusterKey(label: string): string {
  const key = labelKey(label);
  const number = parseNumber(key);
  return Number.isNaN(number) ? plainWord(key) : String(number);
}

/** The list's cells of one column with the texts that mean nothing; null when the settings name no such column. */
interface ListColumn {
  readonly cells: Cells;
  readonly missing: Uint8Array;
}

type ListRole =
  | "cluster"
  | "stratum"
  | "planned-households"
  | "reached-households"
  | "households-in-frame"
  | "replacement";

/** A cluster as it is compared: by its label, and by its stratum too where the same label may stand in several. */
export function clusterPlace(label: string, stratum: string | null, byStratum: boolean): string {
  const key = clusterKey(label);
  return byStratum ? JSON.stringify([stratum === null ? null : labelKey(stratum), key]) : key;
}

/** Whole numbers of households, one a row; NaN where there is none. */
function householdsOf(column: ListColumn | null, rows: number, problems: InputProblem[]): Float64Array {
  if (column === null) return new Float64Array(rows).fill(Number.NaN);
  const { cells, missing } = column;
  const byText = cells.values.map((value, index) => {
    if (missing[index] === 1) return Number.NaN;
    const number = parseNumber(value);
    if (Number.isInteger(number) && number >= 0) return number;
    problems.push(cellProblem("cluster-list-number", cells, index));
    return Number.NaN;
  });
  return spreadNumbers(cells, byText);
}

const yes = new Set([...yesWords, "y", "o", "s", "1", "x"]);
const no = new Set([...noWords, "n", "0"]);

/** Which rows are clusters held in reserve: yes or no, an empty cell meaning no. */
function replacementsOf(column: ListColumn | null, problems: InputProblem[]): (row: number) => boolean {
  if (column === null) return () => false;
  const { cells, missing } = column;
  const byText = cells.values.map((value, index) => {
    const word = plainWord(asciiDigits(value));
    if (yes.has(word)) return true;
    if (missing[index] !== 1 && !no.has(word)) problems.push(cellProblem("cluster-list-code", cells, index));
    return false;
  });
  return (row) => byText[cells.codes[row] ?? 0] ?? false;
}

function labelsOf(column: ListColumn | null): (row: number) => string | null {
  if (column === null) return () => null;
  const { cells, missing } = column;
  return (row) => {
    const code = cells.codes[row] ?? 0;
    return missing[code] === 1 ? null : (cells.values[code] ?? null);
  };
}

/** Clusters that stand on the list twice, in one stratum or where the list has no strata. */
function repeated(clusters: readonly ListedCluster[], table: TextTable, byStratum: boolean): InputProblem[] {
  const seen = new Set<string>();
  return clusters.flatMap(({ label, stratum }) => {
    const key = clusterPlace(label, stratum, byStratum);
    if (!seen.has(key)) {
      seen.add(key);
      return [];
    }
    return [inputProblem("cluster-list-twice", table.file, { value: label })];
  });
}

/** Clusters with fewer households in the frame than were planned or reached there. */
function framesTooSmall(
  column: ListColumn | null,
  table: TextTable,
  visited: readonly Float64Array[],
  inFrame: Float64Array,
): InputProblem[] {
  if (column === null) return [];
  return Array.from(inFrame).flatMap((households, row) => {
    const most = Math.max(
      ...visited.map((numbers) => numbers[row] as number).filter((number) => !Number.isNaN(number)),
    );
    if (!(most > households)) return [];
    const at = { row: table.sheetRow[row] ?? 0, column: column.cells.name, value: String(households) };
    return [inputProblem("cluster-list-frame", table.file, { ...at, details: { most } })];
  });
}

/** True where some label stands in more than one stratum. */
function labelsShared(clusters: readonly ListedCluster[]): boolean {
  const strata = new Map<string, string | null>();
  return clusters.some(({ label, stratum }) => {
    const key = clusterKey(label);
    const other = strata.get(key);
    const own = stratum === null ? null : labelKey(stratum);
    strata.set(key, own);
    return other !== undefined && other !== own;
  });
}

/** Reads the list of clusters by the columns that the settings name. */
export function readClusterList(table: TextTable, survey: SurveyFile): ClusterList {
  const given = survey.values.clusters?.columns ?? { cluster: "" };
  const names = table.columns.map(({ name }) => name);
  const codes = codeTexts(survey.values["missing-codes"]);
  const problems: InputProblem[] = [];
  const column = (role: ListRole): ListColumn | null => {
    const name = given[role];
    if (name === undefined) return null;
    const cells = cellsOf(table, name);
    if (cells === null) {
      problems.push(columnNotFound(survey, ["clusters", "columns", role], name, names));
      return null;
    }
    return { cells, missing: missingTexts(cells, codes) };
  };
  const label = labelsOf(column("cluster"));
  const stratum = labelsOf(column("stratum"));
  const replacement = replacementsOf(column("replacement"), problems);
  const planned = householdsOf(column("planned-households"), table.rowCount, problems);
  const reached = householdsOf(column("reached-households"), table.rowCount, problems);
  const inFrame = householdsOf(column("households-in-frame"), table.rowCount, problems);
  problems.push(...framesTooSmall(column("households-in-frame"), table, [planned, reached], inFrame));
  const clusters = Array.from({ length: table.rowCount }, (_, row) => row).flatMap((row): ListedCluster[] => {
    const name = label(row);
    if (name === null) return [];
    return [
      {
        label: name,
        stratum: stratum(row),
        replacement: replacement(row),
        plannedHouseholds: planned[row] ?? Number.NaN,
        reachedHouseholds: reached[row] ?? Number.NaN,
        householdsInFrame: inFrame[row] ?? Number.NaN,
      },
    ];
  });
  const byStratum = labelsShared(clusters);
  problems.push(...repeated(clusters, table, byStratum));
  return { clusters, countsReached: given["reached-households"] !== undefined, byStratum, problems };
}
