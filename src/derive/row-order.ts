import type { Survey } from "../describe/survey.js";
import { pickerOf } from "./pick-rows.js";

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
  const { ageSetAside } = survey;
  return {
    ...survey,
    sheetRow: pick.numbers(survey.sheetRow),
    sex: pick.numbers(survey.sex),
    interviewDay: pick.optional(survey.interviewDay),
    entryTime: pick.optional(survey.entryTime ?? null),
    birthDay: pick.optional(survey.birthDay),
    ageSetAside:
      ageSetAside == null
        ? null
        : { birthDay: pick.optional(ageSetAside.birthDay), ageMonths: pick.optional(ageSetAside.ageMonths) },
    ageMonths: pick.optional(survey.ageMonths),
    ageKnownHow: pick.coded(survey.ageKnownHow),
    weight: pick.measure(survey.weight),
    height: pick.measure(survey.height),
    arm: pick.measure(survey.arm),
    head: pick.measure(survey.head),
    position: pick.optional(survey.position),
    oedema: pick.optional(survey.oedema),
    cluster: pick.coded(survey.cluster),
    stratum: pick.coded(survey.stratum),
    area: pick.coded(survey.area),
    team: pick.coded(survey.team),
    household: pick.coded(survey.household),
    samplingWeight: pick.optional(survey.samplingWeight),
    subgroups: survey.subgroups.map((column) => ({ ...column, codes: pick.numbers(column.codes) })),
  };
}
