import type { CodedColumn, MeasureColumn } from "../describe/survey.js";

type TypedColumn = Float64Array | Uint32Array | Int32Array | Uint8Array;

/** Copies chosen rows of columns; a column that is not there stays null. */
export interface Picker {
  numbers<Column extends TypedColumn>(column: Column): Column;
  optional<Column extends TypedColumn>(column: Column | null): Column | null;
  coded(column: CodedColumn | null): CodedColumn | null;
  measure(column: MeasureColumn | null): MeasureColumn | null;
}

/** Picks these rows, in their order. */
export function pickerOf(rows: Uint32Array): Picker {
  const numbers = <Column extends TypedColumn>(column: Column): Column => {
    const picked = new (column.constructor as new (length: number) => Column)(rows.length);
    for (let i = 0; i < rows.length; i++) picked[i] = column[rows[i] as number] as number;
    return picked;
  };
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
