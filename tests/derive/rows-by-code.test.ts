import { expect, it } from "vitest";
import { rowsByCode } from "../../src/derive/rows-by-code.js";

it("every code has its rows in the order of the file; negative codes have none", () => {
  const rows = rowsByCode(Int32Array.from([2, 0, -1, 2, 0, 2]), 4);
  expect(rows.map((own) => [...own])).toEqual([[1, 4], [], [0, 3, 5], []]);
});
