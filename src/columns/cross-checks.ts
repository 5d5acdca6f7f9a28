import { placeOf, type TextTable } from "../read/table.js";
import { type InputProblem, inputProblem, RowProblems } from "../settings/problems.js";
import { agesContradict } from "./ages-agree.js";
import { isoDay } from "./dates.js";
import { type ReadColumns, visitDates } from "./read-columns.js";
import { unlikelyColumns } from "./unrelated.js";
import { plainWord } from "./words.js";

function cellText(read: { cells: { values: readonly string[]; codes: Uint32Array } }, row: number): string {
  return read.cells.values[read.cells.codes[row] ?? 0] ?? "";
}

/** A birth after the interview: one of the two dates is wrong, and no age can be had from them. */
function birthAfterInterview(table: TextTable, columns: ReadColumns): InputProblem[] {
  const birth = columns.dates.get("birth-date");
  const interview = visitDates(columns);
  const found = new RowProblems();
  if (birth === undefined || interview === undefined) return [];
  for (let row = 0; row < table.rowCount; row++) {
    if (!((birth.days[row] ?? Number.NaN) > (interview.days[row] ?? Number.NaN))) continue;
    found.add(() =>
      inputProblem("birth-after-interview", placeOf(table), {
        row: table.sheetRow[row] ?? 0,
        column: birth.cells.name,
        value: cellText(birth, row),
        details: { interview: cellText(interview, row), interviewColumn: interview.cells.name },
      }),
    );
  }
  return found.list();
}

/** Dates after the day of the run. */
function futureDates(table: TextTable, columns: ReadColumns, today: number): InputProblem[] {
  // The clock of a form's device may be wrong: that matters only where no other date tells the day of the interview.
  const dated = [...columns.dates].filter(([role]) => role !== "entry-time" || !columns.dates.has("interview-date"));
  return dated.flatMap(([, read]) => {
    const found = new RowProblems();
    for (let row = 0; row < table.rowCount; row++) {
      if (!((read.days[row] ?? Number.NaN) > today)) continue;
      found.add(() =>
        inputProblem("future-date", placeOf(table), {
          row: table.sheetRow[row] ?? 0,
          column: read.cells.name,
          value: cellText(read, row),
          details: { today: isoDay(today) },
        }),
      );
    }
    return found.list();
  });
}

/**
 * Weight in kilograms above height in centimetres, which no child has. In more than half of the rows the two columns
 * are swapped; in fewer, single rows are.
 */
function swapped(
  table: TextTable,
  columns: ReadColumns,
): { readonly problems: InputProblem[]; readonly whole: boolean } {
  const weight = columns.measures.get("weight");
  const height = columns.measures.get("height");
  if (weight === undefined || height === undefined) return { problems: [], whole: false };
  const found = new RowProblems();
  let both = 0;
  for (let row = 0; row < table.rowCount; row++) {
    const kilograms = weight.column.values[row] ?? Number.NaN;
    const centimetres = height.column.values[row] ?? Number.NaN;
    if (Number.isNaN(kilograms) || Number.isNaN(centimetres)) continue;
    both += 1;
    // Values that belong to another unit, or to none, are named as such.
    if (!(kilograms > centimetres && kilograms <= 150 && centimetres > 0.5)) continue;
    found.add(() =>
      inputProblem("row-swapped", placeOf(table), {
        row: table.sheetRow[row] ?? 0,
        details: { weight: cellText(weight, row), height: cellText(height, row) },
      }),
    );
  }
  if (found.count * 2 <= both) return { problems: found.list(), whole: false };
  const details = { weight: weight.cells.name, height: height.cells.name, rows: found.count, both };
  return { problems: [inputProblem("columns-swapped", placeOf(table), { details })], whole: true };
}

/** Words that stand before the sums below a table, without accents. */
const totalWords = new Set(
  "total totals subtotal sub_total grand_total sum totaux total_general somme totales suma totais soma المجموع الاجمالي".split(
    " ",
  ),
);

/** Rows without a sex in which a cell says that it is a total: they would be counted as children. */
function totalRows(table: TextTable, columns: ReadColumns): InputProblem[] {
  const sex = columns.codes.get("sex");
  const found = new RowProblems();
  if (sex === undefined) return [];
  for (const column of table.columns) {
    const totals = new Set(column.values.flatMap((text, code) => (totalWords.has(plainWord(text)) ? [code] : [])));
    if (totals.size === 0) continue;
    column.codes.forEach((code, row) => {
      if (!totals.has(code) || sex.missing[sex.cells.codes[row] ?? 0] !== 1) return;
      const at = { row: table.sheetRow[row] ?? 0, value: column.values[code] ?? "" };
      found.add(() => inputProblem("total-row", placeOf(table), at));
    });
  }
  return found.list();
}

/** Problems that only two columns together, or a column and the calendar, show. Replaces complaints about the units of swapped columns. */
export function crossCheck(
  table: TextTable,
  columns: ReadColumns,
  today: number | undefined,
  problems: readonly InputProblem[],
): InputProblem[] {
  const { problems: swaps, whole } = swapped(table, columns);
  const measured = new Set(["weight", "height"].map((role) => columns.measures.get(role as "weight")?.cells.name));
  const explained = (problem: InputProblem): boolean =>
    whole &&
    measured.has(problem.column) &&
    (problem.kind.startsWith("unit") || problem.kind === "missing-code-likely");
  const totals = totalRows(table, columns);
  const summed = new Set(totals.map((problem) => problem.row));
  // A sum is no measure: what is odd about it needs no complaint of its own.
  const ofTotal = (problem: InputProblem): boolean => problem.count === 1 && summed.has(problem.row);
  return [
    ...totals,
    ...problems.filter((problem) => !explained(problem) && !ofTotal(problem)),
    ...swaps,
    ...birthAfterInterview(table, columns),
    ...agesContradict(table, columns),
    ...(whole ? [] : unlikelyColumns(table, columns)),
    ...(today === undefined ? [] : futureDates(table, columns, today)),
  ];
}
