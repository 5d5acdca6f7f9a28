import type { CodedColumn, MeasureColumn, Survey } from "../columns/survey.js";
import { type Column, takeRows } from "./columns.js";

/** Copies chosen rows of columns; a column that is not there stays null. */
interface Picker {
  numbers<Kind extends Column>(column: Kind): Kind;
  optional<Kind extends Column>(column: Kind | null): Kind | null;
  coded(column: CodedColumn | null): CodedColumn | null;
  measure(column: MeasureColumn | null): MeasureColumn | null;
}

/** Picks these rows, in their order. */
export function pickerOf(rows: Uint32Array): Picker {
  const numbers = <Kind extends Column>(column: Kind): Kind => takeRows(column, rows);
  return {
    numbers,
    optional: (column) => (column === null ? null : numbers(column)),
    coded: (column) => (column === null ? null : { ...column, codes: numbers(column.codes) }),
    measure: (column) => {
      if (column === null) return null;
      const values = numbers(column.values);
      const missing = values.reduce((sum, value) => sum + (Number.isNaN(value) ? 1 : 0), 0);
      const setAside = column.setAside == null ? null : numbers(column.setAside);
      return { ...column, values, missing, setAside };
    },
  };
}

/** Every column of a survey but those that ages are worked out from. */
export function pickColumns(survey: Survey, pick: Picker) {
  return {
    sheetRow: pick.numbers(survey.sheetRow),
    sex: pick.numbers(survey.sex),
    interviewDay: pick.optional(survey.interviewDay),
    entryTime: pick.optional(survey.entryTime ?? null),
    birthDay: pick.optional(survey.birthDay),
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
