import { describe, expect, it } from "vitest";
import { takeRows } from "../../src/derive/columns.js";

describe("rows of a column", () => {
  it("are taken in the order given, as a column of the same kind that is its own", () => {
    const column = Float64Array.of(1.5, Number.NaN, 3.25);
    const taken = takeRows(column, [2, 1, 2]);
    expect(taken).toEqual(Float64Array.of(3.25, Number.NaN, 3.25));
    taken[0] = 9;
    expect(column[2]).toBe(3.25);
    expect(takeRows(Uint8Array.of(7, 8), Int32Array.of(1))).toEqual(Uint8Array.of(8));
    expect(takeRows(Int32Array.of(-1, 4), [])).toEqual(new Int32Array(0));
  });
});
