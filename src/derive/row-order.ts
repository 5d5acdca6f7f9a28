import type { Survey } from "../columns/survey.js";
import { pickColumns, pickerOf } from "./pick-rows.js";

type Column = ArrayLike<number>;

/** Every column that was read, those that tell children apart soonest first. */
function columnsRead(survey: Survey): Column[] {
  const coded = [survey.cluster, survey.stratum, survey.household, survey.team];
  const others = [survey.area, survey.ageKnownHow, ...survey.subgroups];
  const measures = [survey.weight, survey.height, survey.arm, survey.head];
  const columns: (Column | null | undefined)[] = [
    ...coded.map((column) => column?.codes),
    survey.interviewDay,
    survey.birthDay,
    survey.ageMonths,
    survey.sex,
    ...measures.map((column) => column?.values),
    survey.position,
    survey.oedema,
    survey.entryTime,
    survey.samplingWeight,
    ...others.map((column) => column?.codes),
    ...measures.map((column) => column?.setAside),
    survey.ageSetAside?.birthDay,
    survey.ageSetAside?.ageMonths,
  ];
  return columns.filter((column) => column != null);
}

/** Numbers ascending, those that are missing last. */
function compare(a: number, b: number): number {
  if (a < b) return -1;
  if (a > b) return 1;
  return Number(Number.isNaN(a)) - Number(Number.isNaN(b));
}

function rowsByContent(survey: Survey): Uint32Array {
  const columns = columnsRead(survey);
  return Uint32Array.from({ length: survey.rowCount }, (_, row) => row).sort((a, b) => {
    for (const column of columns) {
      const order = compare(column[a] as number, column[b] as number);
      if (order !== 0) return order;
    }
    return (survey.sheetRow[a] as number) - (survey.sheetRow[b] as number);
  });
}

/**
 * The survey with its rows in an order that their content alone gives, whatever the order of the file: sums over children, and random
 * numbers drawn for one child after the other, are then the same however the file was sorted. Rows that are equal in everything
 * read keep the order of the file; it makes no difference to any number which of them is which. `sheetRow` goes with the rows.
 */
export function inOrderOfContent(survey: Survey): Survey {
  const pick = pickerOf(rowsByContent(survey));
  const birthDay = pick.optional(survey.ageSetAside?.birthDay ?? null);
  const ageMonths = pick.optional(survey.ageSetAside?.ageMonths ?? null);
  return {
    ...survey,
    ...pickColumns(survey, pick),
    ageMonths: pick.optional(survey.ageMonths),
    ageSetAside: birthDay === null && ageMonths === null ? null : { birthDay, ageMonths },
  };
}
