export type Column = Float64Array | Uint8Array | Uint32Array | Int32Array;

/** The rows of a column, in the order given: a new column of the same kind, as long as `rows`. */
export function takeRows<Kind extends Column>(column: Kind, rows: ArrayLike<number>): Kind {
  const taken = new (column.constructor as new (length: number) => Kind)(rows.length);
  for (let k = 0; k < rows.length; k++) taken[k] = column[rows[k] as number] as number;
  return taken;
}
